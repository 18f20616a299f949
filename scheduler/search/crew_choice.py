"""Who can do a step, and who should: named people and lifts, one thing at a time, within their respirator hours."""

from scheduler.activities.masks import runs
from scheduler.activities.network import Activity
from scheduler.search.state import State


def at_least(masks: list[int], needed: int) -> int:
    """Slots that are set in at least ``needed`` of the masks."""
    levels = [-1] + [0] * needed
    for mask in masks:
        for j in range(needed, 0, -1):
            levels[j] |= levels[j - 1] & mask
    return levels[needed]


def crew_starts(state: State, activity: Activity, mask: int) -> int:
    """Slots of ``mask`` at which named workers can be found for the whole step."""
    for able, needed in state.subsets(activity.crew):
        if needed == 1:
            union = 0
            for w in able:
                union |= worker_mask(state, w, activity)
            mask &= union
        else:
            mask &= at_least([worker_mask(state, w, activity) for w in able], needed)
        if not mask:
            break
    return mask


def worker_mask(state: State, worker: int, activity: Activity) -> int:
    """Slots from which a worker is free, days on which their respirator hours do not suffice left out."""
    mask = state.worker_starts(worker, activity.slots)
    limit = state.net.workers[worker].respirator_slots
    if activity.respirator and limit is not None:
        for day, used in state.respirator[worker].items():
            if used + activity.slots > limit:
                mask &= ~runs(state.days[day], activity.slots)
    return mask


def slots_by_day(state: State, start: int, slots: int) -> dict[int, int]:
    """How many slots of a stretch fall on each day."""
    found: dict[int, int] = {}
    for day in state.net.day[start : start + slots]:
        found[day] = found.get(day, 0) + 1
    return found


def within_respirator(state: State, worker: int, by_day: dict[int, int]) -> bool:
    """Whether a worker stays within their respirator hours on every day of the step."""
    limit = state.net.workers[worker].respirator_slots
    if limit is None:
        return True
    used = state.respirator[worker]
    return all(used.get(day, 0) + slots <= limit for day, slots in by_day.items())


def choose(state: State, activity: Activity, start: int) -> tuple[tuple[int, str], ...] | None:
    """Choose named workers for a step at ``start``: the least versatile first, then the least loaded.

    Returns
    -------
    tuple of (worker, skill), or None
        None where respirator hours leave nobody.
    """
    by_day = slots_by_day(state, start, activity.slots) if activity.respirator else {}
    needs = [skill for skill, count in activity.crew for _ in range(count)]
    options = [_candidates(state, activity, skill, start, by_day) for skill in needs]
    order = sorted(range(len(needs)), key=lambda k: len(options[k]))
    chosen: dict[int, int] = {}
    if not _match(order, 0, options, chosen):
        return None
    return tuple((chosen[k], needs[k]) for k in range(len(needs)))


def _candidates(state: State, activity: Activity, skill: str, start: int, by_day: dict[int, int]) -> list[int]:
    workers = state.net.workers
    free = [
        w
        for w in state.subsets(((skill, 1),))[0][0]
        if state.worker_starts(w, activity.slots) >> start & 1 and (not by_day or within_respirator(state, w, by_day))
    ]
    return sorted(free, key=lambda w: (len(workers[w].skills), state.work[w], w))


def _match(order: list[int], at: int, options: list[list[int]], chosen: dict[int, int]) -> bool:
    if at == len(order):
        return True
    for worker in options[order[at]]:
        if worker not in chosen.values():
            chosen[order[at]] = worker
            if _match(order, at + 1, options, chosen):
                return True
            del chosen[order[at]]
    return False
