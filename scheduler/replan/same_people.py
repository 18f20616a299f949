"""Give steps that stay where they were back to the people who were told, as far as they are free."""

from scheduler.activities.masks import span
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.room import KnownRoutes
from scheduler.search.booking import Booking
from scheduler.search.crew_choice import Worn, slots_by_day, within_respirator
from scheduler.search.insertion import Inserter
from scheduler.search.routes import Routes
from scheduler.search.state import State
from scheduler.search.steps import Step


def same_people(net: Network, told: Placed, placed: Placed, routes: Routes | None = None) -> Placed:
    """Exchange people for those who were told, where that breaks nothing.

    Parameters
    ----------
    net : Network
    told, placed : Placed
        ``placed`` is whole; times and bays stay as they are in it.
    routes : Routes or None
        Of the network, if they are there already.
    """
    if not any(_is_other(told, placed, i) for i in range(len(net.activities))):
        return placed
    routes = routes or KnownRoutes(net)
    inserter = Inserter(net, State(net, routes), routes=routes)
    for path in net.paths:
        inserter.put(path, placed)
    for path in net.paths:
        if any(_is_other(told, placed, i) for i in range(path.first, path.last + 1)):
            inserter.remove(path)
            booking = inserter.booking(path, placed)
            for step in booking.route.steps:
                back = _is_other(told, placed, step.index) and _free(booking, told, step, _worn(booking, placed, step))
                booking.add(step, (told if back else placed).crew[step.index], placed.draws[step.index])
            booking.enter()
    return inserter.state.placed()


def _is_other(told: Placed, placed: Placed, i: int) -> bool:
    """Whether a step stands where people were told, and others do it."""
    return told.start[i] == placed.start[i] and told.crew[i] not in ((), placed.crew[i])


def _worn(booking: Booking, placed: Placed, now: Step) -> dict[int, dict[int, int]]:
    """Slots under a respirator by worker and day that the unit's other steps take: as booked before, as placed after."""
    worn = {worker: dict(days) for worker, days in booking.held.worn.items()}
    for step in booking.route.steps[now.offset + 1 :]:
        if step.activity.respirator:
            for day, slots in slots_by_day(booking.state, placed.start[step.index], step.slots).items():
                for worker, _ in placed.crew[step.index]:
                    days = worn.setdefault(worker, {})
                    days[day] = days.get(day, 0) + slots
    return worn


def _free(booking: Booking, told: Placed, step: Step, own: Worn) -> bool:
    """Whether all who were told are free for a step and may still wear the respirator."""
    state, start = booking.state, told.start[step.index]
    mask = span(start, start + step.slots)
    by_day = slots_by_day(state, start, step.slots) if step.activity.respirator else {}
    return all(
        not mask & ~state.hours.free(w)
        and skill in state.net.workers[w].skills
        and (not by_day or within_respirator(state, w, by_day, own))
        for w, skill in told.crew[step.index]
    )
