"""Put a unit where a solution has it, with the people and packs that it names: a quick yes, or no without saying why."""

from scheduler.activities.masks import span
from scheduler.activities.network import Path
from scheduler.activities.placed import Placed
from scheduler.search.booking import Booking
from scheduler.search.crew_choice import slots_by_day, within_respirator
from scheduler.search.hours import FREE
from scheduler.search.insertion import Inserter
from scheduler.search.openings import vapour_until
from scheduler.search.state import State
from scheduler.search.steps import Step, Wait


def put_as_told(inserter: Inserter, path: Path, told: Placed) -> bool:
    """Put a unit back where it was told, if nothing at all is in its way there.

    Parameters
    ----------
    inserter : Inserter
    path : Path
        Not in yet, and whole in ``told``.
    told : Placed

    Returns
    -------
    bool
        False, with nothing changed, where any rule, person or pack is.
    """
    state, booking = inserter.state, inserter.booking(path, told)
    if not (_keeps_waits(booking) and _has_places(booking, told)):
        return False
    mark = state.save()
    for step in booking.route.steps:
        if not _fits(booking, step, told):
            state.restore(mark)
            return False
        booking.add(step, told.crew[step.index], told.draws[step.index])
    booking.enter()
    return True


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


def _has_places(booking: Booking, told: Placed) -> bool:
    """Whether a place is free for every stay, the yard has room and the customer can spare the unit."""
    state, at, steps, path = booking.state, booking.at, booking.route.steps, booking.route.path
    if not path.since_start:
        here = span(at[0], at[-1] + steps[-1].slots)
        if any(state.pools[pool].blocked(1) & here for pool in path.present):
            return False
    for k in path.stays:
        stay, c = state.net.stays[k], told.bay_class[k]
        begin = 0 if stay.since_start else told.start[stay.first]
        if span(begin, told.start[stay.last] + state.net.activities[stay.last].slots) & state.taken_room(c):
            return False
    return True


def _fits(booking: Booking, step: Step, told: Placed) -> bool:
    """Whether calendar, weather, air, tools, warmer, people and stock allow a step where it was told."""
    state, start, c = booking.state, booking.at[step.offset], booking.classes[step.offset]
    if not step.activity.starts.get(c, 0) >> start & 1:
        return False
    for use in step.uses:
        if state.pools[use.pool].blocked(use.amount) & ((1 << use.length) - 1) << start & state.full:
            return False
    return (
        (not step.curved or _is_warm(state, step, start))
        and _has_air(state, step, start, c)
        and _has_crew(booking, step, start, told)
        and (not step.activity.product or _has_packs(state, step, start, told))
        and booking.own_clash(step, start) is None
    )


def _is_warm(state: State, step: Step, start: int) -> bool:
    if step.load is None or state.net.warmer is None:
        return True
    load = step.load[start]
    return load >= 0 and not state.pools[state.net.warmer].blocked(step.packs) & span(load, start + step.slots)


def _has_air(state: State, step: Step, start: int, bay_class: int) -> bool:
    space, end = state.space_of[bay_class], start + step.slots
    if space < 0:
        return True
    if step.activity.emits_dust:
        return not state.vapour[space].over(0) & span(start, end)
    if step.activity.emits_vapour:
        return not state.dust[space].over(0) & span(start, vapour_until(state, step, bay_class, end))
    return True


def _has_crew(booking: Booking, step: Step, start: int, told: Placed) -> bool:
    state, slots = booking.state, step.slots
    if step.activity.crew and not told.crew[step.index]:
        return False  # somebody is not there any more
    hours = state.hours
    stretch = hours.of[start]
    row, run = hours.rows[stretch], ((1 << slots) - 1) << (start - hours.first[stretch])
    by_day = slots_by_day(state, start, slots) if step.activity.respirator else {}
    for worker, _ in told.crew[step.index]:
        if row[worker][FREE] & run != run:
            return False
        if by_day and not within_respirator(state, worker, by_day, booking.held.worn):
            return False
    return True


def _has_packs(state: State, step: Step, start: int, told: Placed) -> bool:
    draws, sources = told.draws[step.index], state.net.sources
    if step.activity.packs and not draws:
        return False
    return all(state.left_ul[s] >= ul and sources[s].first <= start and start + step.slots <= sources[s].last for s, ul in draws)
