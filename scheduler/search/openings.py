"""Where a step may start in what is free: a mask for all that is fixed in length, a next try for what depends on the start."""

from bisect import bisect_right

from scheduler.activities.masks import highest, runs, span
from scheduler.search.state import State
from scheduler.search.steps import Step


def tools_free(state: State, step: Step) -> int:
    """Slots at which tools and compressed air are there for a step, in whatever bay; -1 if it needs none."""
    mask = -1
    for use in step.uses:
        mask &= state.pools[use.pool].starts(use.amount, use.length)
        if not mask:
            return 0
    return mask


def open_in(state: State, step: Step, bay_class: int, anywhere: int) -> int:
    """Slots of ``anywhere`` at which calendar, weather and air space of a class of bays allow a step as well."""
    mask = anywhere & step.starts.get(bay_class, 0)
    space = state.space_of[bay_class]
    if mask and step.activity.emits_dust and space >= 0:
        vapour = state.vapour[space]
        if any(vapour.planes):
            mask &= runs(state.wide ^ vapour.over(0), step.slots)
    return mask


def next_try(state: State, step: Step, bay_class: int, start: int) -> int:
    """``start`` if warmer and air space allow it there, else the next start worth trying; the end of the axis for none."""
    end, warmer = start + step.slots, state.net.warmer
    if step.load is not None and warmer is not None:
        load = step.load[start]
        if load < 0:
            return max(bisect_right(step.load, -1), start + 1)
        held = state.pools[warmer].blocked(step.packs) & span(load, end)
        if held:
            return max(bisect_right(step.load, highest(held)), start + 1)
    space = state.space_of[bay_class]
    if step.activity.emits_vapour and space >= 0:
        dust = state.dust[space]
        clash = dust.over(0) & span(start, vapour_until(state, step, bay_class, end)) if any(dust.planes) else 0
        if clash:
            return highest(clash) + 1
    return start


def vapour_until(state: State, step: Step, bay_class: int, end: int) -> int:
    """Slot from which the air is free of a step's vapour."""
    return min(max(end, step.activity.clears[bay_class][end]), state.net.slots)
