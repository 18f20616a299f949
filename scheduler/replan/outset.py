"""Where a re-plan sets out from: the network as it stands, what people were told on it, and a repair of that.

Where some unit finds no room in time for its next coat, units are prepared again until all do.
"""

import time
from dataclasses import dataclass

from scheduler.activities.build import Built, build_network
from scheduler.activities.reread import Reread, reread
from scheduler.collection import no_collection
from scheduler.replan.repair import NoRoom, Repaired, try_repair
from scheduler.replan.room import KnownRoutes
from scheduler.replan.way_on import rework_for, rework_of, with_rework
from scheduler.schedule.schedule import Schedule
from scheduler.search.bound import quick_bounds
from scheduler.search.outcome import Bounds
from scheduler.search.routes import Routes
from scheduler.shop.fixed import Rework
from scheduler.shop.shop import Shop

MOST = 5
"""Units that are prepared again for want of room before the search is asked."""


@dataclass(frozen=True)
class Outset:
    """What there is before anything is improved.

    Attributes
    ----------
    shop : Shop
        As it stands now, further rework included.
    told : Reread
        What people were told, on the network.
    repaired : Repaired or NoRoom
    took_s, ready_s : float
        Seconds of the repair alone, and of all together.
    """

    shop: Shop
    earlier: Schedule
    seed: int
    built: Built
    routes: Routes
    bounds: Bounds
    told: Reread
    repaired: Repaired | NoRoom
    took_s: float
    ready_s: float

    def on(self, shop: Shop) -> "Outset":
        """The same on another shop."""
        return set_out(shop, self.earlier, self.seed)


@no_collection()
def set_out(shop: Shop, earlier: Schedule, seed: int) -> Outset:
    """Build the network, find what was told on it, and repair that.

    Parameters
    ----------
    shop : Shop
        As it stands now.
    earlier : Schedule
        What people were told.
    seed : int
    """
    ready = time.perf_counter()
    built = build_network(shop)
    routes, bounds, told = KnownRoutes(built.network), quick_bounds(built.network), reread(built, earlier)
    began = time.perf_counter()
    repaired = try_repair(built.network, told.placed, seed, routes)
    now = time.perf_counter()
    return Outset(shop, earlier, seed, built, routes, bounds, told, repaired, now - began, now - ready)


def prepared_again(at: Outset) -> Outset:
    """Prepare units again where that lets all find room: those first that could not even go on in an empty shop."""
    if isinstance(at.repaired, NoRoom) and (rows := rework_for(at.shop, at.built)):
        at = at.on(with_rework(at.shop, rows))
    return at if isinstance(at.repaired, Repaired) else _for_want_of_room(at)


def _for_want_of_room(begin: Outset) -> Outset:
    """Prepare one unit after the other again for which the others leave no room in time; none where that helps nobody."""
    at, rows = begin, tuple[Rework, ...]()
    for _ in range(MOST):
        unit = _next(at, {row.unit_id for row in rows})
        more = () if unit is None else tuple(rework_of(at.shop, unit))
        for row in more:
            now = begin.on(with_rework(begin.shop, (*rows, row)))
            if isinstance(now.repaired, Repaired):
                return _least(begin, now, (*rows, row))
        if not more:
            break
        at, rows = now, (*rows, more[-1])
    return begin


def _next(at: Outset, seen: set[str]) -> str | None:
    units = at.repaired.units if isinstance(at.repaired, NoRoom) else ()
    return next((unit for unit in units if unit not in seen), None)


def _least(begin: Outset, found: Outset, rows: tuple[Rework, ...]) -> Outset:
    """Leave out what was not needed after all."""
    for row in rows[:-1]:
        fewer = tuple(other for other in rows if other is not row)
        now = begin.on(with_rework(begin.shop, fewer))
        if isinstance(now.repaired, Repaired):
            found, rows = now, fewer
    return found
