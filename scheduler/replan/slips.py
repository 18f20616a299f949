"""When orders that must slip could be handed back instead, all others being in."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from scheduler.activities.build import build_network
from scheduler.replan.fewest_slips import all_but
from scheduler.shop.shop import Shop

LATER: Final = timedelta(days=28)
"""How far past the plan's end a day is looked for."""


@dataclass(frozen=True, slots=True)
class Slip:
    """An order that does not fit, and when it could be handed back without the dates that were fixed for it.

    Attributes
    ----------
    back_at : datetime or None
        None if no day was found, four weeks past the end of the plan included.
    past_end : bool
        Whether the plan ends before that.
    """

    order: str
    customer: str
    back_at: datetime | None
    past_end: bool


def slips(shop: Shop, chosen: Collection[str]) -> tuple[Slip, ...]:
    """When orders could be handed back if what was fixed for them fell away, all that fit being in; the heaviest first."""
    freed = without_dates(shop, chosen)
    found = _slips(freed, chosen, shop.site.plan_until)
    if all(slip.back_at is not None for slip in found) or not shop.typical_year:
        return found
    site = shop.site.model_copy(update={"plan_until": shop.site.plan_until + LATER})
    return _slips(freed.with_tables(site=site), chosen, shop.site.plan_until)


def _slips(shop: Shop, chosen: Collection[str], ends: datetime) -> tuple[Slip, ...]:
    built = build_network(shop)
    inserter = all_but(built.network, chosen)
    rows = []
    for order in sorted(chosen, key=lambda order: (-shop.order_by_id[order].weight, order)):
        paths = [path for path in built.network.paths if path.order == order]
        back_at = None
        if all(inserter.insert(path) for path in paths):
            last = max(inserter.state.start[path.last] + built.network.activities[path.last].slots for path in paths)
            back_at = built.grid.end_of(last).astimezone(built.grid.zone)
        rows.append(Slip(order, shop.order_by_id[order].customer, back_at, back_at is not None and back_at > ends))
    return tuple(rows)


def without_dates(shop: Shop, orders: Collection[str]) -> Shop:
    """Return the shop without pins and last days of some orders' units."""
    units = {unit.unit_id for unit in shop.units if unit.order_id in orders}
    freed = tuple(u.model_copy(update={"must_leave_by": None}) if u.unit_id in units else u for u in shop.units)
    return shop.with_tables(units=freed, pinned=tuple(pin for pin in shop.pinned if pin.unit_id not in units))
