"""Who can do a step, and who should: named people and lifts, one thing at a time, within their respirator hours."""

from collections.abc import Mapping, Sequence
from itertools import islice

from scheduler.search.hours import FREE
from scheduler.search.state import State
from scheduler.search.steps import Step

Crew = tuple[tuple[int, str], ...]
Worn = Mapping[int, Mapping[int, int]]
NOBODY: Worn = {}
NONE: Mapping[int, int] = {}


def at_least(masks: Sequence[int], needed: int) -> int:
    """Slots that are set in at least ``needed`` of the masks."""
    once = twice = 0
    if needed == 1:
        for mask in masks:
            once |= mask
        return once
    if needed == 2:
        for mask in masks:
            twice |= once & mask
            once |= mask
        return twice
    levels = [-1] + [0] * needed
    for mask in masks:
        for j in range(needed, 0, -1):
            levels[j] |= levels[j - 1] & mask
    return levels[needed]


def crew_starts(state: State, step: Step, stretch: int) -> int:
    """Slots of a stretch, counted from its first one, at which named workers can be found for the whole step."""
    hours, key = state.hours, step.run
    row, mask = hours.rows[stretch], -1
    for able, needed in step.groups:
        known = [starts if (starts := row[w].get(key, -1)) >= 0 else hours.starts(stretch, w, key) for w in able]
        mask &= at_least(known, needed)
        if not mask:
            break
    hours.crews[stretch][step.crew_key] = mask
    return mask


def is_staffed(state: State, step: Step, start: int) -> bool:
    """Whether named workers can be found for the whole step at one start."""
    hours, slots = state.hours, step.slots
    stretch, masked = hours.of[start], step.run < 0
    row, run = hours.rows[stretch], ((1 << slots) - 1) << (start - hours.first[stretch])
    for able, needed in step.groups:
        missing = needed
        for w in able:
            if row[w][FREE] & run == run and not (masked and not hours.suffice(w, start, slots)):
                missing -= 1
                if not missing:
                    break
        if missing:
            return False
    return True


def slots_by_day(state: State, start: int, slots: int) -> dict[int, int]:
    """How many slots of a stretch fall on each day."""
    day, last = state.net.day[start], state.net.day[start + slots - 1]
    if day == last:
        return {day: slots}
    found: dict[int, int] = {}
    for each in state.net.day[start : start + slots]:
        found[each] = found.get(each, 0) + 1
    return found


def within_respirator(state: State, worker: int, by_day: Mapping[int, int], own: Worn) -> bool:
    """Whether a worker stays within their respirator hours on every day of the step; ``own`` is what they wear it besides."""
    limit = state.hours.limits[worker]
    if limit is None:
        return True
    used, mine = state.hours.worn[worker], own.get(worker, NONE)
    return all(used.get(day, 0) + mine.get(day, 0) + slots <= limit for day, slots in by_day.items())


def choose(state: State, step: Step, start: int, own: Worn = NOBODY) -> Crew | None:
    """Choose named workers for a step at ``start``: the least versatile first, then the least loaded.

    Parameters
    ----------
    state : State
    step : Step
    start : int
    own : mapping of worker to mapping of day to slots
        Time under a respirator that is not in the state yet.

    Returns
    -------
    tuple of (worker, skill), or None
        None where respirator hours leave nobody.
    """
    slots, hours, rank = step.slots, state.hours, state.rank.__getitem__
    by_day = slots_by_day(state, start, slots) if step.activity.respirator else NONE
    stretch = hours.of[start]
    row, run = hours.rows[stretch], ((1 << slots) - 1) << (start - hours.first[stretch])
    everybody, firsts = [], []
    for skill, able in step.needs:
        free = [w for w in able if row[w][FREE] & run == run]
        first = _first(state, sorted(free, key=rank), by_day, own) if by_day else min(free, key=rank, default=None)
        if first is None:
            return None
        everybody.append(free)
        firsts.append((first, skill))
    count = len(firsts)
    if count == 1 or len({worker for worker, _ in firsts}) == count:
        return tuple(firsts)
    return _shared_out(state, firsts, [sorted(free, key=rank) for free in everybody], by_day, own)


def _first(state: State, free: Sequence[int], by_day: Mapping[int, int], own: Worn) -> int | None:
    """Return the first who stays within their respirator hours."""
    for worker in free:
        if within_respirator(state, worker, by_day, own):
            return worker
    return None


def _shared_out(
    state: State, firsts: Sequence[tuple[int, str]], everybody: Sequence[Sequence[int]], by_day: Mapping[int, int], own: Worn
) -> Crew | None:
    """Share workers out where one is first for several needs; more of them than the step has people are never needed."""
    count = len(firsts)
    options = [list(islice((w for w in free if within_respirator(state, w, by_day, own)), count)) for free in everybody]
    chosen: dict[int, int] = {}
    if not _match(sorted(range(count), key=lambda k: len(options[k])), 0, options, chosen):
        return None
    return tuple((chosen[k], skill) for k, (_, skill) in enumerate(firsts))


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
