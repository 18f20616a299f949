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
from scheduler.replan.way_on import most_rework_of, rework_for, with_rework
from scheduler.schedule.schedule import Schedule
from scheduler.search.bound import quick_bounds
from scheduler.search.outcome import Bounds
from scheduler.search.routes import Routes
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.shop import Shop

MOST = 5
"""Units that are looked at for want of room before the search is asked."""


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
    """Prepare units again for which the others leave no room in time: one that suffices, or one after the other.

    None where that helps nobody.
    """
    units = _in_a_hurry(begin)
    rows = [row for unit in units if (row := most_rework_of(begin.shop, unit)) is not None]
    together = [tuple(rows[:count]) for count in range(2, len(rows) + 1)]
    for tried in [*((row,) for row in rows), *together]:
        found = begin.on(with_rework(begin.shop, tried))
        if isinstance(found.repaired, Repaired):
            return _least(begin, found, tried)
    return begin


def _in_a_hurry(at: Outset) -> list[str]:
    """Units on the site with a film to come, those first for which no room was found."""
    net, no_room = at.built.network, at.repaired.units if isinstance(at.repaired, NoRoom) else ()
    films = {a.unit for a in net.activities if a.product is not None}
    begun = [path.unit for path in net.paths if path.since_start and path.unit in films]
    return [*(unit for unit in no_room if unit in begun), *(unit for unit in begun if unit not in no_room)][:MOST]


def _least(begin: Outset, found: Outset, rows: tuple[Rework, ...]) -> Outset:
    """Leave out what is not needed after all, and only wipe where that suffices."""
    for row in rows:
        wiped = row.model_copy(update={"kind": ReworkKind.WIPE})
        fewer = tuple(other for other in rows if other is not row)
        for less in (fewer, (*fewer, wiped)):
            now = begin.on(with_rework(begin.shop, less)) if less else begin
            if isinstance(now.repaired, Repaired):
                found, rows = now, less
                break
    return found
