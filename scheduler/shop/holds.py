"""Holds: units that were quoted and not ordered yet are planned as if they were, until their hold lapses."""

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from scheduler.shop.fixed import Hold
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Delivery, Order, Surface, Unit


def read_with_holds(place: Path) -> Shop:
    """Read a shop as it is planned: with a unit for each one that is held.

    Raises
    ------
    BadInputError
        With all faults of the folder.
    """
    return with_holds(read_shop(place))


def lapsed(hold: Hold, moment: datetime) -> bool:
    """Whether a hold has lapsed at a moment on the site's clock."""
    return hold.held_until < moment.date()


def with_holds(shop: Shop) -> Shop:
    """Add an order for each hold that has not lapsed when the plan begins, with units like those it names."""
    begin = shop.local(shop.site.plan_from)
    holds = [hold for hold in shop.holds if not lapsed(hold, begin) and hold.hold_id not in shop.order_by_id]
    if not holds:
        return shop
    rows = [(hold, unit) for hold in holds for unit in _units(shop, hold)]
    return shop.with_tables(
        orders=(*shop.orders, *_orders(holds)),
        units=(*shop.units, *(unit for _, unit in rows)),
        surfaces=(*shop.surfaces, *(s for hold, unit in rows for s in _surfaces(shop, hold, unit))),
    )


def without_lapsed(shop: Shop) -> Shop:
    """Take out the orders of holds that have lapsed when the plan begins, as far as no unit of them is begun."""
    begin, begun = shop.local(shop.site.plan_from), {shop.unit_by_id[d.unit_id].order_id for d in shop.done}
    gone = {hold.hold_id for hold in shop.holds if lapsed(hold, begin)} - begun
    units = {unit.unit_id for unit in shop.units if unit.order_id in gone}
    return shop.with_tables(
        orders=tuple(order for order in shop.orders if order.order_id not in gone),
        units=tuple(unit for unit in shop.units if unit.unit_id not in units),
        surfaces=tuple(surface for surface in shop.surfaces if surface.unit_id not in units),
        warming=tuple(row for row in shop.warming if row.unit_id not in units),
        pinned=tuple(pin for pin in shop.pinned if pin.unit_id not in units),
    )


def _orders(holds: list[Hold]) -> Iterator[Order]:
    """One order a hold; its rows agree on all but the kinds of units, and the tightest counts where they do not."""
    for hold_id in dict.fromkeys(hold.hold_id for hold in holds):
        rows = [hold for hold in holds if hold.hold_id == hold_id]
        spare = [row.most_units_away for row in rows if row.most_units_away is not None]
        yield Order(
            order_id=hold_id,
            customer=rows[0].customer,
            due_at=min(row.due_at for row in rows),
            weight=1,
            delivery=Delivery.TOGETHER,
            most_units_away=min(spare, default=None),
        )


def _units(shop: Shop, hold: Hold) -> Iterator[Unit]:
    like = shop.unit_by_id[hold.like_unit]
    for n in range(hold.count):
        fresh = {"unit_id": f"{hold.hold_id}.{hold.like_unit}.{n + 1}", "order_id": hold.hold_id, "must_leave_by": None}
        yield like.model_copy(update={**fresh, "available_from": hold.arrives_at})


def _surfaces(shop: Shop, hold: Hold, unit: Unit) -> Iterator[Surface]:
    return (row.model_copy(update={"unit_id": unit.unit_id}) for row in shop.surfaces_of[hold.like_unit])
