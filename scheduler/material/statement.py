"""The end-of-plan statement: what became of every millilitre of every product, beside the fewest packs that any plan opens.

What stood opened and what was opened anew is sprayed, purged, in heels, left or lapsed; nothing is left over:

    standing + opened = sprayed + purged + heels + left + lapsed.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from scheduler.material.bound import Least, least_packs
from scheduler.material.contents import contents
from scheduler.material.entries import PPM
from scheduler.material.pack import at_most_ul
from scheduler.material.pack_lives import PackLife, last_day, pack_lives
from scheduler.schedule.schedule import Schedule
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Amount:
    """A number of packs and what is in them."""

    packs: int = 0
    ml: float = 0.0


@dataclass(frozen=True, slots=True)
class Account:
    """One product over a plan.

    Attributes
    ----------
    standing, opened : Amount
        Stood opened when the plan began, and opened by the plan.
    sprayed_ml : float
        What left the guns for the work, losses in spraying included.
    purged : Amount
        Starts that cost a purge, and what went to waste at them.
    heels : Amount
        Packs that are empty: what is in them never reaches the work.
    left, lapsed : Amount
        Recapped packs that keep past the end of the plan, and those past their last day by then.
    shelf, expired : Amount
        Packs that were never opened: in date at the end of the plan, and out of date by then.
    least_packs, least_spent : int, float
        What no plan can go below: packs opened, and packs with purges as a share of a pack.
    """

    product: Product
    standing: Amount
    opened: Amount
    sprayed_ml: float
    purged: Amount
    heels: Amount
    left: Amount
    lapsed: Amount
    shelf: Amount
    expired: Amount
    least_packs: int
    least_spent: float

    @property
    def spent(self) -> float:
        """Packs opened, and purges as a share of a pack: the goal ``material``."""
        return self.opened.packs + self.purged.ml / self.product.pack_ml

    @property
    def unaccounted_ml(self) -> float:
        """What does not balance; nothing in a schedule that the checker passes."""
        gone_ml = self.sprayed_ml + self.purged.ml + self.heels.ml + self.left.ml + self.lapsed.ml
        return self.standing.ml + self.opened.ml - gone_ml


def statement(shop: Shop, schedule: Schedule) -> tuple[Account, ...]:
    """Account for every product that is in stock or in the plan, in the order of the product table."""
    lives: dict[str, list[PackLife]] = defaultdict(list)
    for life in pack_lives(shop, schedule):
        lives[life.product.product_id].append(life)
    volumes: dict[str, list[int]] = defaultdict(list)
    for work in schedule.work:
        if work.product_id and not work.done:
            volumes[work.product_id].append(at_most_ul(work.volume_ml))
    known = {lot.product_id for lot in shop.lots} | lives.keys() | volumes.keys()
    ends = last_day(shop, schedule)
    rows = (p for p in shop.products if p.product_id in known)
    return tuple(_account(shop, p, lives[p.product_id], volumes[p.product_id], ends) for p in rows)


def _account(shop: Shop, product: Product, lives: Sequence[PackLife], volumes_ul: list[int], ends: date) -> Account:
    draws = [use.draw for life in lives for use in life.uses]
    stood = [life.stood.remaining_ml for life in lives if life.stood is not None]
    empty = [life.left_ml for life in lives if life.is_empty]
    full = [life for life in lives if not life.is_empty]
    least = _least(shop, product, volumes_ul, stood)
    new = len(lives) - len(stood)
    shelf, expired = _unopened(shop, product, lives, ends)
    return Account(
        product=product,
        standing=Amount(len(stood), sum(stood)),
        opened=Amount(new, new * product.pack_ml),
        sprayed_ml=sum(draw.sprayed_ml for draw in draws),
        purged=Amount(sum(draw.purge_ml > 0 for draw in draws), sum(draw.purge_ml for draw in draws)),
        heels=Amount(len(empty), sum(empty)),
        left=_amount(life.left_ml for life in full if life.keeps_until >= ends),
        lapsed=_amount(life.left_ml for life in full if life.keeps_until < ends),
        shelf=shelf,
        expired=expired,
        least_packs=least.packs,
        least_spent=least.spent_ppm / PPM,
    )


def _least(shop: Shop, product: Product, volumes_ul: list[int], stood_ml: list[float]) -> Least:
    return least_packs(volumes_ul, contents(shop, product), [at_most_ul(ml) for ml in stood_ml])


def _unopened(shop: Shop, product: Product, lives: Sequence[PackLife], ends: date) -> tuple[Amount, Amount]:
    """Packs of the lots that nobody opened: in date at the end of the plan, and out of date."""
    taken: dict[str, int] = defaultdict(int)
    for life in lives:
        taken[life.lot.lot_id] += life.stood is None
    shelf = expired = 0
    for lot in shop.lots:
        if lot.product_id == product.product_id:
            rest = lot.packs - taken[lot.lot_id]
            shelf, expired = (shelf + rest, expired) if lot.expires_on >= ends else (shelf, expired + rest)
    return Amount(shelf, shelf * product.pack_ml), Amount(expired, expired * product.pack_ml)


def _amount(contents_ml: Iterable[float]) -> Amount:
    rows = list(contents_ml)
    return Amount(len(rows), sum(rows))
