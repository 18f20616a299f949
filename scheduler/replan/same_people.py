"""Give steps that stay where they were back to the people who were told, as far as they are free."""

from dataclasses import replace

from scheduler.activities.masks import span
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.obstacles import class_at
from scheduler.search.booking import book, unbook
from scheduler.search.candidates import Fit
from scheduler.search.crew_choice import slots_by_day, within_respirator
from scheduler.search.insertion import Inserter
from scheduler.search.state import State


def same_people(net: Network, told: Placed, placed: Placed) -> Placed:
    """Exchange people for those who were told, where that breaks nothing.

    Parameters
    ----------
    net : Network
    told, placed : Placed
        ``placed`` is whole; times and bays stay as they are in it.
    """
    state = State(net)
    inserter = Inserter(net, state)
    for path in net.paths:
        inserter.put(path, placed)
    other = [i for i, start in enumerate(placed.start) if told.start[i] == start and told.crew[i] not in ((), placed.crew[i])]
    for i in sorted(other, key=lambda i: placed.start[i]):
        bay_class, now = class_at(net, placed, i), Fit(placed.start[i], state.crew[i], state.draws[i])
        unbook(state, i, bay_class)
        fit = Fit(now.start, told.crew[i], now.draws) if _free(state, told, i) else now
        book(state, i, fit, bay_class)
    return replace(placed, crew=tuple(state.crew))


def _free(state: State, told: Placed, i: int) -> bool:
    """Whether all who were told are free for a step and may still wear the respirator."""
    activity, start = state.net.activities[i], told.start[i]
    mask = span(start, start + activity.slots)
    by_day = slots_by_day(state, start, activity.slots) if activity.respirator else {}
    return all(
        not mask & ~state.free[w]
        and skill in state.net.workers[w].skills
        and (not by_day or within_respirator(state, w, by_day))
        for w, skill in told.crew[i]
    )
