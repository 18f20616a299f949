"""Which units hold what keeps a step from its place."""

from collections.abc import Callable

from scheduler.replan.obstacles import Obstacle
from scheduler.search.holding import Holding
from scheduler.search.state import State

Holds = Callable[[Holding], bool]


def holders(state: State, obstacle: Obstacle, bay_class: int) -> list[int]:
    """Numbers of the paths that hold what a step is short of; none where a rule of its own unit or the calendar is in its way.

    Parameters
    ----------
    state : State
    obstacle : Obstacle
    bay_class : int
        Class of bays in which the step was to be.
    """
    test = _test(state, obstacle, bay_class)
    if test is None:
        return []
    return [number for number, held in enumerate(state.holdings) if held is not None and test(held)]


def _test(state: State, obstacle: Obstacle, bay_class: int) -> Holds | None:
    rule, slot, what = obstacle.rule, obstacle.slot, obstacle.what
    if rule == "bay_places":
        return lambda held: any(c == bay_class and mask >> slot & 1 for c, mask in held.bays)
    if rule == "air_space":
        space = state.spaces.index(what)
        return lambda held: bool((held.dust.get(space, 0) | held.vapour.get(space, 0)) >> slot & 1)
    worker = next((w for w, row in enumerate(state.net.workers) if row.key == what), None)
    if rule == "respirator_hours" and worker is not None:
        day = state.net.day[slot]
        return lambda held: day in held.worn.get(worker, {})
    if worker is not None:
        return lambda held: any(w == worker and start <= slot < end for w, start, end in held.runs)
    pool = next((n for n, row in enumerate(state.net.pools) if row.key == what), None)
    return None if pool is None else lambda held: bool(held.taken.get(pool, 0) >> slot & 1)
