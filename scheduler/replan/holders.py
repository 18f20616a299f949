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
    worker = next((w for w, row in enumerate(state.net.workers) if row.key == obstacle.what), None)
    if worker is not None and obstacle.rule not in ("bay_places", "air_space", "respirator_hours"):
        return _at_work(state, worker, obstacle.slot)
    test = _test(state, obstacle, bay_class, worker)
    if test is None:
        return []
    return [number for number, held in enumerate(state.holdings) if held is not None and test(held)]


def _at_work(state: State, worker: int, slot: int) -> list[int]:
    """Paths for which a worker is at work in a slot: looked for only among those that have begun by then and not ended."""
    start, activities, found = state.start, state.net.activities, []
    for number, (path, held) in enumerate(zip(state.net.paths, state.holdings, strict=True)):
        if held is None or start[path.first] > slot or start[path.last] + activities[path.last].slots <= slot:
            continue
        if any(w == worker and begin <= slot < end for w, begin, end in held.runs):
            found.append(number)
    return found


def _test(state: State, obstacle: Obstacle, bay_class: int, worker: int | None) -> Holds | None:
    rule, slot, what = obstacle.rule, obstacle.slot, obstacle.what
    if rule == "bay_places":
        return lambda held: any(c == bay_class and mask >> slot & 1 for c, mask in held.bays)
    if rule == "air_space":
        space = state.spaces.index(what)
        return lambda held: bool((held.dust.get(space, 0) | held.vapour.get(space, 0)) >> slot & 1)
    if worker is not None:
        day = state.net.day[slot]
        return lambda held: day in held.worn.get(worker, {})
    pool = next((n for n, row in enumerate(state.net.pools) if row.key == what), None)
    return None if pool is None else lambda held: bool(held.taken.get(pool, 0) >> slot & 1)
