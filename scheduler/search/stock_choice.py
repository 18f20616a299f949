"""Which packs a film step draws: an opened pack that saves a full one first, then lots, first expired first out."""

from scheduler.activities.network import Activity
from scheduler.search.state import State

Draws = tuple[tuple[int, int], ...]


def eligible(state: State, activity: Activity, start: int) -> list[int]:
    """Sources that may be drawn for the whole step, in the order in which they should be used."""
    return [
        i
        for i, s in enumerate(state.net.sources)
        if s.product == activity.product and s.first <= start and start + activity.slots <= s.last and state.packs_left[i] > 0
    ]


def draw(state: State, activity: Activity, start: int) -> Draws | None:
    """Choose sources and packs for a film step; None if there is not enough in date at ``start``."""
    left, chosen, opened_used = activity.packs, [], False
    for i in eligible(state, activity, start):
        is_opened = state.net.sources[i].opened_ml > 0
        if is_opened and (opened_used or not state.net.saves_a_pack(activity, state.net.sources[i])):
            continue
        take = 1 if is_opened else min(left, state.packs_left[i])
        opened_used = opened_used or is_opened
        chosen.append((i, take))
        left -= take
        if left == 0:
            return tuple(chosen)
    return None if activity.packs else ()


def next_arrival(state: State, activity: Activity, after: int) -> int | None:
    """Return the first slot after ``after`` from which another source of the product may be drawn."""
    later = [s.first for s in state.net.sources if s.product == activity.product and s.first > after]
    return min(later, default=None)
