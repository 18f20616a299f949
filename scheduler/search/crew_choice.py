"""Who can do a step, and who should: named people and lifts, one thing at a time, within their respirator hours."""

from scheduler.activities.network import Activity
from scheduler.search.state import State

Crew = tuple[tuple[int, str], ...]


def at_least(masks: list[int], needed: int) -> int:
    """Slots that are set in at least ``needed`` of the masks."""
    if needed == 1:
        union = 0
        for mask in masks:
            union |= mask
        return union
    levels = [-1] + [0] * needed
    for mask in masks:
        for j in range(needed, 0, -1):
            levels[j] |= levels[j - 1] & mask
    return levels[needed]


def crew_starts(state: State, activity: Activity, mask: int) -> int:
    """Slots of ``mask`` at which named workers can be found for the whole step."""
    slots, respirator = activity.slots, activity.respirator
    key, known = (-slots if respirator else slots), state.runs_of
    for able, needed in state.subsets(activity.crew):
        free = [known[w].get(key) or state.worker_starts(w, slots, respirator=respirator) for w in able]
        mask &= at_least(free, needed)
        if not mask:
            break
    return mask


def slots_by_day(state: State, start: int, slots: int) -> dict[int, int]:
    """How many slots of a stretch fall on each day."""
    day, last = state.net.day[start], state.net.day[start + slots - 1]
    if day == last:
        return {day: slots}
    found: dict[int, int] = {}
    for each in state.net.day[start : start + slots]:
        found[each] = found.get(each, 0) + 1
    return found


def within_respirator(state: State, worker: int, by_day: dict[int, int]) -> bool:
    """Whether a worker stays within their respirator hours on every day of the step."""
    limit = state.net.workers[worker].respirator_slots
    if limit is None:
        return True
    used = state.respirator[worker]
    return all(used.get(day, 0) + slots <= limit for day, slots in by_day.items())


def choose(state: State, activity: Activity, start: int) -> Crew | None:
    """Choose named workers for a step at ``start``: the least versatile first, then the least loaded.

    Returns
    -------
    tuple of (worker, skill), or None
        None where respirator hours leave nobody.
    """
    by_day = slots_by_day(state, start, activity.slots) if activity.respirator else {}
    if len(activity.crew) == 1 and activity.crew[0][1] == 1:
        skill = activity.crew[0][0]
        options = _candidates(state, activity, skill, start, by_day)
        return ((options[0], skill),) if options else None
    return _choose_several(state, activity, start, by_day)


def _choose_several(state: State, activity: Activity, start: int, by_day: dict[int, int]) -> Crew | None:
    needs = [skill for skill, count in activity.crew for _ in range(count)]
    options = [_candidates(state, activity, skill, start, by_day) for skill in needs]
    order = sorted(range(len(needs)), key=lambda k: len(options[k]))
    chosen: dict[int, int] = {}
    if not _match(order, 0, options, chosen):
        return None
    return tuple((chosen[k], needs[k]) for k in range(len(needs)))


def _candidates(state: State, activity: Activity, skill: str, start: int, by_day: dict[int, int]) -> list[int]:
    slots, work, known = activity.slots, state.work, state.runs_of
    able = state.able(skill)
    free = [w for w in able if (known[w].get(slots) or state.worker_starts(w, slots)) >> start & 1]
    if by_day:
        free = [w for w in free if within_respirator(state, w, by_day)]
    if len(free) > 1:
        versatility = state.versatility
        free.sort(key=lambda w: (versatility[w], work[w]))
    return free


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
