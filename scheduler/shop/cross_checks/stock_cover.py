"""Whether the stock of a stretch of days covers the coats that have to be sprayed in it.

A unit's films are sprayed between the day on which it is available and the day on which it must leave, or the end of the
plan. For a stretch of days, what the units take that have to be coated inside it is compared with what all packs give that
are in date on any of its days: less than that is short whatever the schedule. Purges of later starts come on top.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import product as pairs
from math import floor

from scheduler.shop.need import Need
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Coat:
    """A film that has to be sprayed from a day to a day."""

    unit_id: str
    name: str
    volume_ml: float
    first: date
    last: date
    due: date

    def within(self, first: date, last: date) -> bool:
        """Whether it has to be sprayed in a stretch of days."""
        return first <= self.first and self.last <= last


@dataclass(frozen=True, slots=True)
class Stock:
    """Packs that may be used from a day to a day, and what they put on the work."""

    first: date
    last: date
    gives_ml: float


@dataclass(frozen=True, slots=True)
class Shortage:
    """Coats of a stretch of days that the stock of these days does not cover."""

    first: date
    last: date
    needed_ml: float
    there_ml: float
    starving: tuple[Coat, ...]

    @property
    def short_ml(self) -> float:
        """What is lacking, mL."""
        return self.needed_ml - self.there_ml


def coats_of(shop: Shop, needs: Mapping[str, tuple[Need, ...]], product: Product) -> Iterator[Coat]:
    """Films of a product that are still to be sprayed."""
    done = {(row.unit_id, row.step) for row in shop.done}
    due = {order.order_id: shop.local(order.due_at).date() for order in shop.orders}
    ends = shop.local(shop.site.plan_until).date()
    for unit in shop.units:
        first = max(shop.local(unit.available_from), shop.local(shop.site.plan_from)).date()
        last = min(ends, shop.local(unit.must_leave_by).date()) if unit.must_leave_by else ends
        for need in needs[unit.unit_id]:
            if _is_of(need, product) and (unit.unit_id, need.name) not in done:
                yield Coat(unit.unit_id, need.name, need.volume_ml, first, last, due.get(unit.order_id, last))


def _is_of(need: Need, product: Product) -> bool:
    return need.product is not None and need.product.product_id == product.product_id


def stocks_of(shop: Shop, product: Product) -> Iterator[Stock]:
    """Lots and opened packs of a product."""
    lots = {lot.lot_id: lot for lot in shop.lots if lot.product_id == product.product_id}
    for lot in lots.values():
        yield Stock(lot.arrives_on, lot.expires_on, lot.packs * product.usable_ml)
    for pack in shop.opened:
        if pack.lot_id in lots:
            keeps = min(pack.opened_on + timedelta(days=floor(product.open_life_d)), lots[pack.lot_id].expires_on)
            gives_ml = max(0.0, pack.remaining_ml - product.end_heel_ml - product.recap_purge_ml)
            yield Stock(pack.opened_on, keeps, gives_ml)


def worst(shop: Shop, coats: list[Coat], stocks: list[Stock]) -> Shortage | None:
    """Return the stretch of days that is shortest of stock; None if none is."""
    begins, ends = shop.local(shop.site.plan_from).date(), shop.local(shop.site.plan_until).date()
    firsts = {begins, *(s.last + _DAY for s in stocks if begins <= s.last < ends)}
    lasts = {ends, *(s.first - _DAY for s in stocks if begins < s.first <= ends)}
    found = [_shortage(coats, stocks, *days) for days in pairs(sorted(firsts), sorted(lasts))]
    return max((s for s in found if s.short_ml > 1.0), key=lambda s: s.short_ml, default=None)


def _shortage(coats: list[Coat], stocks: list[Stock], first: date, last: date) -> Shortage:
    inside = sorted((c for c in coats if c.within(first, last)), key=lambda c: (c.due, c.unit_id, c.name))
    there_ml = sum(s.gives_ml for s in stocks if s.first <= last and s.last >= first)
    starving, left_ml = [], there_ml
    for coat in inside:
        left_ml -= coat.volume_ml
        if left_ml < -1.0:
            starving.append(coat)
    return Shortage(first, last, sum(c.volume_ml for c in inside), there_ml, tuple(starving))
