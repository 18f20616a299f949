"""Why a plan opens packs that the bound does not need: one line for each, from what stood opened and what was left of it.

The bound takes every product to be used up to the last drop. For each pack opened beyond it the opening is named at which
most material stood by in opened packs, with the reason why none of these would do; where nothing stood by, what became of
the pack itself is the reason.
"""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import accumulate
from operator import itemgetter

from scheduler.material.pack_lives import PackLife, last_day, pack_lives
from scheduler.material.statement import statement
from scheduler.schedule.schedule import Schedule, Work
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Explained:
    """A pack opened that the bound does not need.

    Attributes
    ----------
    sprayed_ml : float
        What it gives to the step for which it is opened.
    stood_by_ml : float
        What opened packs held for the work at that time, free, warm and in date or not.
    because : str
        Why it is opened all the same.
    """

    product: Product
    pack: str
    at: datetime
    work: Work
    sprayed_ml: float
    stood_by_ml: float
    because: str


def explain(shop: Shop, schedule: Schedule) -> tuple[Explained, ...]:
    """Explain as many openings of each product as lie above its bound, in the order of time."""
    lives: dict[str, list[PackLife]] = defaultdict(list)
    for life in pack_lives(shop, schedule):
        lives[life.product.product_id].append(life)
    found: list[Explained] = []
    for account in statement(shop, schedule):
        above = account.opened.packs - account.least_packs
        if above > 0:
            found += _dearest(lives[account.product.product_id], above, last_day(shop, schedule))
    return tuple(sorted(found, key=lambda row: (row.at, row.pack)))


def _dearest(lives: Sequence[PackLife], count: int, ends: date) -> list[Explained]:
    """Openings that opened packs could best have saved: the odd pack of a step before its full ones."""
    by_work: dict[str, list[PackLife]] = defaultdict(list)
    for life in lives:
        if life.stood is None:
            by_work[life.uses[0].work.work_id].append(life)
    ranked: list[tuple[float, Explained]] = []
    stood_by_ml = _standing(lives)
    for opened in by_work.values():
        spare_ml = stood_by_ml(opened[0].uses[0].work)
        for life in sorted(opened, key=lambda life: (life.uses[0].draw.sprayed_ml, life.pack)):
            row = _explained(life, spare_ml, ends)
            spare_ml -= row.sprayed_ml
            ranked.append((spare_ml, row))
    ranked.sort(key=lambda pair: (-pair[0], pair[1].at, pair[1].pack))
    return [row for _, row in ranked[:count]]


def _explained(life: PackLife, stood_by_ml: float, ends: date) -> Explained:
    use = life.uses[0]
    silent = f"{stood_by_ml:.0f} mL stood by in opened packs, and the plan gives no reason" if stood_by_ml > 0 else ""
    because = use.draw.reason or silent or _fate(life, ends)
    return Explained(life.product, life.pack, use.work.start, use.work, use.draw.sprayed_ml, max(0.0, stood_by_ml), because)


def _standing(lives: Sequence[PackLife]) -> Callable[[Work], float]:
    """Tell what all packs that stand opened hold for the work when a step begins, but for those that the step draws on.

    Each pack counts from the step that opens it, with what every step leaves in it; a plan has thousands, so their changes are
    added up once over time.
    """
    changes: list[tuple[datetime, float]] = []
    own_ml: dict[str, float] = defaultdict(float)
    base_ml = 0.0
    for life in lives:
        held_ml = _for_work_ml(life, life.stood.remaining_ml) if life.stood else 0.0
        base_ml += held_ml
        for use in life.uses:
            own_ml[use.work.work_id] += held_ml
            before_ml, held_ml = held_ml, _for_work_ml(life, use.draw.left_ml)
            changes.append((use.work.start, held_ml - before_ml))
    changes.sort(key=itemgetter(0))
    moments = [moment for moment, _ in changes]
    totals_ml = [base_ml, *(base_ml + ml for ml in accumulate(ml for _, ml in changes))]
    return lambda work: round(totals_ml[bisect_left(moments, work.start)] - own_ml[work.work_id], 6)


def _for_work_ml(life: PackLife, left_ml: float) -> float:
    """What of the rest in a pack would reach the work after another start."""
    return max(0.0, left_ml - life.product.recap_purge_ml - life.product.end_heel_ml)


def _fate(life: PackLife, ends: date) -> str:
    """What becomes of a pack at whose opening no other stood by."""
    starts = sum(u.draw.begins == "resumed" for u in life.uses)
    again = f"; {starts} later start{'s' if starts > 1 else ''} of it cost a purge each" if starts else ""
    if life.is_empty:
        return f"no opened pack stood by, and {life.left_ml:.0f} mL of it stay in its heel{again}"
    if life.keeps_until < ends:
        last = f"{life.keeps_until.day} {life.keeps_until:%b}"
        return f"no opened pack stood by, and {life.left_ml:.0f} mL of it lapse on {last}{again}"
    return f"no opened pack stood by, and {life.left_ml:.0f} mL of it are left when the plan ends{again}"
