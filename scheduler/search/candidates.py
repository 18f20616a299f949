"""Where an activity fits: masks for what is fixed in length, a test with a jump for what depends on the start."""

from bisect import bisect_right
from dataclasses import dataclass

from scheduler.activities.masks import highest, lowest, runs, span
from scheduler.activities.network import Activity
from scheduler.search.crew_choice import Crew, choose, crew_starts
from scheduler.search.state import State
from scheduler.search.stock_choice import Draws, draw, next_arrival

NONE = -1


@dataclass(frozen=True, slots=True)
class Fit:
    """A start that works, with the people and packs found for it."""

    start: int
    crew: Crew
    draws: Draws


def start_mask(state: State, activity: Activity, bay_class: int, earliest: int, *, opens_stay: bool) -> int:
    """Slots from ``earliest`` on at which calendar, weather, tools, people and air allow the step."""
    mask = activity.starts.get(bay_class, 0) >> earliest << earliest
    for demand in activity.demands:
        if not mask:
            return 0
        mask &= state.pools[demand.pool].starts(demand.amount, activity.slots)
    space = state.net.classes[bay_class].air_space
    if activity.emits_dust and space:
        mask &= runs(state.full & ~state.vapour[space].over(0), activity.slots)
    if opens_stay:
        mask &= room(state, bay_class)
    return crew_starts(state, activity, mask) if mask else 0


def room(state: State, bay_class: int) -> int:
    """Slots in which a bay of the class has a free place and is not shut."""
    return state.net.classes[bay_class].free & ~state.bays[bay_class].blocked(1)


def first_fit(state: State, activity: Activity, bay_class: int, earliest: int, *, opens_stay: bool) -> Fit | None:
    """First start at or after ``earliest``."""
    mask = start_mask(state, activity, bay_class, earliest, opens_stay=opens_stay)
    while mask:
        start = lowest(mask)
        jump = _next_try(state, activity, bay_class, start)
        if jump == start:
            fit = _staffed(state, activity, start)
            if fit is not None:
                return fit
            jump = start + 1
        if jump < 0:
            return None
        mask = mask >> jump << jump
    return None


def last_fit(state: State, activity: Activity, bay_class: int, latest: int) -> Fit | None:
    """Last start at or before ``latest`` of a step with no warm-up, film or vapour."""
    mask = start_mask(state, activity, bay_class, 0, opens_stay=False) & span(0, latest + 1)
    while mask:
        start = highest(mask)
        fit = _staffed(state, activity, start)
        if fit is not None:
            return fit
        mask ^= 1 << start
    return None


def _staffed(state: State, activity: Activity, start: int) -> Fit | None:
    crew = choose(state, activity, start)
    draws = draw(state, activity, start) if activity.product else ()
    return None if crew is None or draws is None else Fit(start, crew, draws)


def _next_try(state: State, activity: Activity, bay_class: int, start: int) -> int:
    """``start`` if everything that depends on the start holds there, else the next start worth trying, ``NONE`` for none."""
    end = start + activity.slots
    if _tails_blocked(state, activity, start, end):
        return start + 1
    if activity.load is not None and state.net.warmer is not None:
        loaded = activity.load[start]
        held = state.pools[state.net.warmer].blocked(activity.packs) & span(max(loaded, 0), end)
        if loaded < 0 or held:
            return _after(activity.load, highest(held) if held else -1, start)
    space = state.net.classes[bay_class].air_space
    if activity.emits_vapour and space:
        clash = state.dust[space].over(0) & span(start, min(max(end, activity.clears[bay_class][end]), state.net.slots))
        if clash:
            return highest(clash) + 1
    if activity.product and draw(state, activity, start) is None:
        later = next_arrival(state, activity, start)
        return NONE if later is None else later
    return start


def _tails_blocked(state: State, activity: Activity, start: int, end: int) -> bool:
    return any(
        demand.tail and state.pools[demand.pool].blocked(demand.amount) & span(end, end + demand.tail)
        for demand in activity.demands
    )


def _after(load: tuple[int, ...], slot: int, start: int) -> int:
    """First start after ``start`` whose cartridges are loaded after ``slot``."""
    found = bisect_right(load, slot)
    return max(found, start + 1) if found < len(load) else NONE
