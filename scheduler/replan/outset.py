"""Where a re-plan sets out from: the network as it stands, what people were told on it, and a repair of that.

Where some unit finds no room in time for its next coat, units are prepared again until all do.
"""

import time
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

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

MOST, TOGETHER = 5, 12
"""Units of which each is looked at alone for want of room, and so many together, before the search is asked."""


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
    tried: list[tuple[Outset, tuple[Rework, ...]]] = []
    for row in islice(_rows(begin, ()), MOST):
        tried.append((begin.on(with_rework(begin.shop, (row,))), (row,)))
        if isinstance(tried[-1][0].repaired, Repaired):
            return _least(begin, *tried[-1])
    at, rows = tried[0] if tried else (begin, ())
    while rows and len(rows) < TOGETHER and (more := tuple(islice(_rows(at, rows), 1))):
        rows = (*rows, *more)
        at = begin.on(with_rework(begin.shop, rows))
        if isinstance(at.repaired, Repaired):
            return _least(begin, at, rows)
    return begin


def _rows(at: Outset, there: tuple[Rework, ...]) -> Iterator[Rework]:
    """Yield rework that gives one unit more all the time that it needs."""
    seen = {row.unit_id for row in there}
    for unit in _in_a_hurry(at):
        if unit not in seen and (row := most_rework_of(at.shop, unit)) is not None:
            yield row


def _in_a_hurry(at: Outset) -> list[str]:
    """Units on the site with a film to come, those first for which no room was found."""
    net, no_room = at.built.network, at.repaired.units if isinstance(at.repaired, NoRoom) else ()
    films = {a.unit for a in net.activities if a.product is not None}
    begun = [path.unit for path in net.paths if path.since_start and path.unit in films]
    return [*(unit for unit in no_room if unit in begun), *(unit for unit in begun if unit not in no_room)]


def _least(begin: Outset, found: Outset, rows: tuple[Rework, ...]) -> Outset:
    """Leave out what is not needed after all, and only wipe where that suffices."""
    for row in rows[:MOST]:
        wiped = row.model_copy(update={"kind": ReworkKind.WIPE})
        fewer = tuple(other for other in rows if other is not row)
        for less in (fewer, (*fewer, wiped)):
            now = begin.on(with_rework(begin.shop, less)) if less else begin
            if isinstance(now.repaired, Repaired):
                found, rows = now, less
                break
    return found
