"""Book and unbook one activity in a state; the two undo each other exactly."""

from scheduler.activities.masks import span
from scheduler.search.candidates import Fit
from scheduler.search.crew_choice import slots_by_day
from scheduler.search.state import UNPLACED, State


def book(state: State, index: int, fit: Fit, bay_class: int) -> None:
    """Place an activity where it was found to fit."""
    state.start[index], state.crew[index], state.draws[index] = fit.start, fit.crew, fit.draws
    _apply(state, index, bay_class, sign=1)


def unbook(state: State, index: int, bay_class: int) -> None:
    """Take an activity out again."""
    _apply(state, index, bay_class, sign=-1)
    state.start[index], state.crew[index], state.draws[index] = UNPLACED, (), ()


def _apply(state: State, index: int, bay_class: int, sign: int) -> None:
    activity, start = state.net.activities[index], state.start[index]
    end = start + activity.slots
    mask = span(start, end)
    for worker, _ in state.crew[index]:
        (state.take_worker if sign > 0 else state.give_worker)(worker, mask, activity.slots)
    if activity.respirator:
        by_day = slots_by_day(state, start, activity.slots)
        for worker, _ in state.crew[index]:
            state.breathe(worker, by_day, sign)
    for demand in activity.demands:
        _use(state, demand.pool, span(start, end + demand.tail) & state.full, demand.amount, sign)
    if activity.load is not None and state.net.warmer is not None:
        _use(state, state.net.warmer, span(activity.load[start], end), activity.packs, sign)
    for source, packs in state.draws[index]:
        state.packs_left[source] -= sign * packs
    _air(state, index, bay_class, sign)


def _use(state: State, pool: int, mask: int, amount: int, sign: int) -> None:
    planes = state.pools[pool]
    (planes.add if sign > 0 else planes.give_back)(mask, amount)


def _air(state: State, index: int, bay_class: int, sign: int) -> None:
    activity, start = state.net.activities[index], state.start[index]
    space = state.net.classes[bay_class].air_space
    if space is None:
        return
    if activity.emits_dust:
        planes, mask = state.dust[space], span(start, start + activity.slots)
    elif activity.emits_vapour:
        planes, mask = state.vapour[space], span(start, vapour_until(state, index, bay_class))
    else:
        return
    (planes.add if sign > 0 else planes.give_back)(mask, 1)


def vapour_until(state: State, index: int, bay_class: int) -> int:
    """Slot from which the air is free of a step's vapour."""
    activity = state.net.activities[index]
    end = state.start[index] + activity.slots
    return min(max(end, activity.clears[bay_class][end]), state.net.slots)
