"""Where not everything can be done: the fewest orders that must slip and to when, and what would make it fit after all."""

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import combinations, islice

from scheduler.activities.build import Built, build_network
from scheduler.activities.network import Network, Path
from scheduler.replan.pins import BrokenPin
from scheduler.replan.what_if import Variant, variants
from scheduler.search.improve import Improver
from scheduler.search.insertion import Inserter
from scheduler.search.routes import Routes
from scheduler.search.state import State
from scheduler.shop.shop import Shop

MOST_TRIES = 150
"""Sets of orders that are tried to slip before a set is taken that one order of insertion leaves over."""
MORE_PACKS, QUICK = 50, 3
"""Packs that a cure adds; orders of insertion that are tried where a cure is nearly certain."""


@dataclass(frozen=True, slots=True)
class Slip:
    """An order that does not fit, and when it could be handed back without the dates that were fixed for it; None if never."""

    order: str
    customer: str
    back_at: datetime | None


@dataclass(frozen=True)
class WaysOut:
    """What can be done.

    Attributes
    ----------
    slips : tuple of Slip
        With these orders left out all others find a place.
    fewest : bool
        Whether it was tried that fewer do not suffice: insertion found no way, which proves nothing but is a sign.
    cures : tuple of str
        Single changes with which everything finds a place.
    """

    slips: tuple[Slip, ...]
    fewest: bool
    cures: tuple[str, ...]


def ways_out(shop: Shop) -> WaysOut:
    """Look for the fewest orders that must slip, and for single changes after which none has to.

    Parameters
    ----------
    shop : Shop
        For which insertion finds no schedule.
    """
    built = build_network(shop)
    orders = tuple(dict.fromkeys(path.order for path in built.network.paths))
    chosen, fewest = _fewest(built.network, orders)
    slips = tuple(_slip(shop, order, chosen) for order in chosen)
    cures = tuple(v.says for v in _cures(shop, chosen) if Improver(build_network(v.shop).network, 1).first() is not None)
    return WaysOut(slips, fewest, cures)


def without_pins(shop: Shop, broken: Collection[BrokenPin]) -> WaysOut | None:
    """The way out of pins that cannot be kept: to let go of them, if everything finds a place then; None if it does not."""
    pins = [row.pin for row in broken]
    freed = _with(shop, pinned=tuple(pin for pin in shop.pinned if pin not in pins))
    if Improver(build_network(freed).network, 1).first(tries=QUICK) is None:
        return None
    names = ", ".join(f"{pin.step} of {pin.unit_id}" for pin in pins)
    return WaysOut((), fewest=False, cures=(f"{names} {'is' if len(pins) == 1 else 'are'} not fixed any more",))


def _fewest(net: Network, orders: Collection[str]) -> tuple[tuple[str, ...], bool]:
    """Smallest set of orders without which the others fit; of two alike the one of less weight."""
    routes = Routes(net)
    weight = {due.order: due.weight for due in net.dues}
    tries = (group for size in (1, 2) for group in sorted(combinations(orders, size), key=lambda g: sum(weight[o] for o in g)))
    for group in islice(tries, MOST_TRIES):
        if not _left_over(net, routes, group):
            return group, True
    return tuple(dict.fromkeys(path.order for path in _left_over(net, routes, ()))), False


def _left_over(net: Network, routes: Routes, without: Collection[str]) -> list[Path]:
    """Units that find no place when all are put in by due date, but for some orders."""
    inserter = Inserter(net, State(net, routes), routes=routes)
    key = _by_due(net)
    paths = sorted((path for path in net.paths if path.order not in without), key=key)
    return [path for path in paths if not inserter.insert(path)]


def _by_due(net: Network) -> Callable[[Path], tuple[float, ...]]:
    late_from = {due.order: next((e for e, days in enumerate(due.late) if days > 0), net.slots) for due in net.dues}
    return lambda path: (not path.since_start, late_from.get(path.order, net.slots), path.first)


def _slip(shop: Shop, order: str, chosen: Collection[str]) -> Slip:
    """When an order could be handed back if its fixed dates fell away, all orders that fit being in."""
    built = build_network(_without_dates(shop, {order}))
    net, routes = built.network, Routes(built.network)
    inserter = Inserter(net, State(net, routes), routes=routes)
    others = [path for path in sorted(net.paths, key=_by_due(net)) if path.order not in chosen]
    mine = [path for path in net.paths if path.order == order]
    fits = all(inserter.insert(path) for path in (*others, *mine))
    return Slip(order, shop.order_by_id[order].customer, _back_at(built, inserter, mine) if fits else None)


def _back_at(built: Built, inserter: Inserter, paths: Collection[Path]) -> datetime:
    ends = [inserter.state.start[path.last] + inserter.net.activities[path.last].slots for path in paths]
    return built.grid.end_of(max(ends)).astimezone(built.grid.zone)


def _without_dates(shop: Shop, orders: Collection[str]) -> Shop:
    """The shop without pins and last days of some orders' units."""
    units = {unit.unit_id for unit in shop.units if unit.order_id in orders}
    freed = tuple(u.model_copy(update={"must_leave_by": None}) if u.unit_id in units else u for u in shop.units)
    return _with(shop, units=freed, pinned=tuple(pin for pin in shop.pinned if pin.unit_id not in units))


def _cures(shop: Shop, chosen: Collection[str]) -> Iterator[Variant]:
    """Single changes, the cheapest kind first: dates, then stock, then what the shop could have more of."""
    units = {unit.unit_id for unit in shop.units if unit.order_id in chosen}
    pins = [pin for pin in shop.pinned if pin.unit_id in units]
    for pin in pins:
        rest = tuple(row for row in shop.pinned if row is not pin)
        yield Variant("pin", f"{pin.step} of {pin.unit_id} is not fixed any more", _with(shop, pinned=rest))
    if any(u.must_leave_by is not None for u in shop.units if u.unit_id in units):
        freed = tuple(u.model_copy(update={"must_leave_by": None}) if u.unit_id in units else u for u in shop.units)
        yield Variant("leave", f"the units of {', '.join(chosen)} may leave later", _with(shop, units=freed))
    for product in shop.products:
        lots = [lot for lot in shop.lots if lot.product_id == product.product_id]
        if lots:
            more = lots[0].model_copy(update={"lot_id": f"{lots[0].lot_id}-more", "packs": MORE_PACKS})
            arrives = {"arrives_on": shop.site.plan_from.date(), "expires_on": shop.site.plan_until.date()}
            says = f"{MORE_PACKS} packs of {product.name} more, here from the start"
            yield Variant("stock", says, _with(shop, lots=(*shop.lots, more.model_copy(update=arrives))))
    yield from variants(shop)


def _with(shop: Shop, **tables: object) -> Shop:
    return Shop.model_validate({name: getattr(shop, name) for name in Shop.model_fields} | tables)
