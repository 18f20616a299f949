"""Put units where a solution has them, with the people and packs that it names: a quick yes, or no without saying why.

What a unit takes there, and whether it may be there at all, is worked out once and then only compared with what is free.
"""

from typing import NamedTuple

from scheduler.activities.masks import span
from scheduler.activities.network import Path
from scheduler.activities.placed import Placed
from scheduler.search.booking import Booking
from scheduler.search.holding import Holding
from scheduler.search.hours import FREE
from scheduler.search.insertion import Inserter
from scheduler.search.presence import one_too_many
from scheduler.search.state import State
from scheduler.search.steps import Step, Wait
from scheduler.search.taking import put_in


class ToldUnit(NamedTuple):
    """What a unit takes where it was told.

    Attributes
    ----------
    asks : list of (pool, amount, mask)
        Uses of pools that must be free.
    there : list of (pool, mask)
        When a unit that is on the site already is counted in a pool.
    drawn : dict of source to microlitres
    """

    booking: Booking
    held: Holding
    asks: list[tuple[int, int, int]]
    there: list[tuple[int, int]]
    drawn: dict[int, int]


class AsTold:
    """Puts units back where they were told, if nothing at all is in their way there.

    Parameters
    ----------
    inserter : Inserter
    told : Placed
    """

    def __init__(self, inserter: Inserter, told: Placed) -> None:
        self.inserter, self.told = inserter, told
        self._units: dict[str, ToldUnit | None] = {}

    def put(self, path: Path) -> bool:
        """Put in a unit that is not in yet, and whole in the solution.

        Returns
        -------
        bool
            False, with nothing changed, where any rule, person or pack is in its way.
        """
        if path.unit not in self._units:
            self._units[path.unit] = self._look_at(path)
        unit, state = self._units[path.unit], self.inserter.state
        if unit is None or not _is_free(state, unit):
            return False
        for source, ul in unit.drawn.items():
            state.put(state.left_ul, source, state.left_ul[source] - ul)
        put_in(state, unit.booking.route, unit.held, unit.booking.at, unit.booking.classes)
        here = slice(path.first, path.last + 1)
        state.put_all(state.crew, here, unit.booking.crew)
        state.put_all(state.draws, here, unit.booking.draws)
        return True

    def _look_at(self, path: Path) -> ToldUnit | None:
        """What the unit takes; None if calendar, weather, waits or its own steps do not let it be there whatever is free."""
        told, booking = self.told, self.inserter.booking(path, self.told)
        if not _keeps_waits(booking):
            return None
        mark, drawn = booking.state.save(), dict[int, int]()
        for step in booking.route.steps:
            if not _may_start(booking, step, told):
                booking.state.restore(mark)
                return None
            booking.add(step, told.crew[step.index], told.draws[step.index])
            for source, ul in told.draws[step.index]:
                drawn[source] = drawn.get(source, 0) + ul
        booking.state.restore(mark)
        held = booking.finish()
        there = set(path.present) if path.since_start else set[int]()
        asks = [use for use in held.uses() if use[0] not in there]
        return ToldUnit(booking, held, asks, [(pool, mask) for pool, _, mask in held.uses() if pool in there], drawn)


def _keeps_waits(booking: Booking) -> bool:
    """Whether the steps come one after the other and every wait between them is kept."""
    at, ready = booking.at, 0
    for step in booking.route.steps:
        start = at[step.offset]
        if start < ready or not all(_keeps(booking, wait, start) for wait in step.waits):
            return False
        ready = start + step.slots
    return all(_keeps(booking, wait, at[then]) for then, wait in booking.route.pickup_waits)


def _keeps(booking: Booking, wait: Wait, start: int) -> bool:
    """Whether a step may start at a slot after the end of another."""
    first, earliest, latest = wait
    c, end = booking.classes[first], booking.at[first] + booking.route.steps[first].slots
    return not (c in earliest and start < earliest[c][end]) and not (c in latest and start > latest[c][end])


def _may_start(booking: Booking, step: Step, told: Placed) -> bool:
    """Whether calendar, weather, warming, the life of the packs and the unit's own dust allow a step where it was told."""
    state, start, c = booking.state, booking.at[step.offset], booking.classes[step.offset]
    end, draws, sources = start + step.slots, told.draws[step.index], state.net.sources
    if not step.activity.starts.get(c, 0) >> start & 1 or (step.load is not None and step.load[start] < 0):
        return False
    if step.activity.emits_dust and booking.held.vapour.get(state.space_of[c], 0) & span(start, end):
        return False
    if step.activity.product and step.activity.packs and not draws:
        return False
    return all(sources[s].first <= start and end <= sources[s].last for s, _ in draws)


def _is_free(state: State, unit: ToldUnit) -> bool:
    """Whether everything that a unit takes is free."""
    pools, held, rows = state.pools, unit.held, state.hours.rows
    if any(pools[pool].blocked(amount) & mask for pool, amount, mask in unit.asks):
        return False
    if any(one_too_many(state, unit.booking.route.path, pool, mask) for pool, mask in unit.there):
        return False
    if any(state.taken_room(c) & mask for c, mask in held.bays):
        return False
    if any(rows[stretch][worker][FREE] & mask != mask for stretch, worker, mask in held.free):
        return False
    return (
        all(state.left_ul[source] >= ul for source, ul in unit.drawn.items())
        and all(not state.vapour[space].over(0) & mask for space, mask in held.dust.items())
        and all(not state.dust[space].over(0) & mask for space, mask in held.vapour.items())
        and _suffices(state, held)
        and (not held.more or _fits_beside_itself(state, unit))
    )


def _suffices(state: State, held: Holding) -> bool:
    """Whether everybody has enough hours under a respirator left."""
    worn, limits = state.hours.worn, state.hours.limits
    for worker, days in held.worn.items():
        limit = limits[worker]
        if limit is not None and any(worn[worker][day] + slots > limit for day, slots in days.items()):
            return False
    return True


def _fits_beside_itself(state: State, unit: ToldUnit) -> bool:
    """Whether pools that the unit uses twice at a time suffice for all its uses together."""
    for pool in {pool for pool, _, _ in unit.held.more}:
        planes, used = state.pools[pool], 0
        for other, amount, mask in unit.asks:
            if other == pool:
                planes, used = planes.plus(mask, amount), used | mask
        if planes.over(planes.capacity) & used:
            return False
    return True
