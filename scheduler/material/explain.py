"""Why a plan opens packs that the bound does not need: one line for each, from what stood opened and what was left of it.

The bound takes every product to be used up to the last drop. For each pack opened beyond it the opening is named at which
most material stood by in opened packs, with the reason why none of these would do; where nothing stood by, what became of
the pack itself is the reason.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from scheduler.material.pack_lives import PackLife, Use, last_day, pack_lives
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
    for opened in by_work.values():
        spare_ml = sum(_stood_by_ml(other, opened[0].uses[0]) for other in lives)
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


def _stood_by_ml(other: PackLife, use: Use) -> float:
    """What a pack that stands opened holds for the work when others are opened for a step that does not draw on it."""
    before = [u for u in other.uses if u.work.start < use.work.start]
    if any(u.work is use.work for u in other.uses) or not (before or other.stood):
        return 0.0
    left_ml = before[-1].draw.left_ml if before else other.stood.remaining_ml if other.stood else 0.0
    return max(0.0, left_ml - other.product.recap_purge_ml - other.product.end_heel_ml)


def _fate(life: PackLife, ends: date) -> str:
    """What becomes of a pack at whose opening no other stood by."""
    starts = sum(u.draw.begins == "resumed" for u in life.uses)
    again = f"; {starts} later start{'s' if starts > 1 else ''} of it cost a purge each" if starts else ""
    if life.is_empty:
        return f"no opened pack stood by, and {life.left_ml:.0f} mL of it stay in its heel{again}"
    if life.keeps_until < ends:
        return f"no opened pack stood by, and {life.left_ml:.0f} mL of it lapse on {life.keeps_until:%d %b}{again}"
    return f"no opened pack stood by, and {life.left_ml:.0f} mL of it are left when the plan ends{again}"
