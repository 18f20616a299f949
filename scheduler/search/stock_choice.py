"""What a film step draws from the stock: opened packs first, then lots, first expired first out, in microlitres.

Which cartridge it is in the end is for the ledger to say. A film is counted with one recap purge, and a new pack without
its first shot and its heel: that is what a chain of films on one opened pack takes at the most.
"""

from collections.abc import Sequence

from scheduler.activities.network import Activity, Network, Source
from scheduler.material.pack import at_least_ul
from scheduler.search.state import State

Draws = tuple[tuple[int, int], ...]


def asks_ul(net: Network, activity: Activity) -> int:
    """What a film step takes out of the stock at the most."""
    sheet = net.sheets.get(activity.product or "")
    return at_least_ul(activity.volume_ml) + (sheet.recap_ul if sheet is not None else 0)


def _may_draw(source: Source, activity: Activity, start: int) -> bool:
    if source.product != activity.product or start + activity.slots > source.last:
        return False
    return source.first <= (start if activity.load is None else activity.load[start])


def eligible(state: State, activity: Activity, start: int) -> list[int]:
    """Sources that may be drawn for the whole step, in the order in which they should be used."""
    return [i for i, s in enumerate(state.net.sources) if state.left_ul[i] > 0 and _may_draw(s, activity, start)]


def draw(state: State, activity: Activity, start: int) -> Draws | None:
    """Choose sources for a film step; None if there is not enough in date at ``start``."""
    left, chosen = asks_ul(state.net, activity), []
    for i in eligible(state, activity, start):
        take = min(left, state.left_ul[i])
        chosen.append((i, take))
        left -= take
        if left == 0:
            return tuple(chosen)
    return None


def draws_of(net: Network, start: Sequence[int]) -> tuple[Draws, ...]:
    """What films that are placed already draw, in the order of time, as far as the stock goes."""
    left = [source.gives_ul for source in net.sources]
    chosen: list[Draws] = [()] * len(net.activities)
    for i in sorted((i for i, a in enumerate(net.activities) if a.product), key=lambda i: (start[i], i)):
        wanted, rows = asks_ul(net, net.activities[i]), []
        for s, source in enumerate(net.sources):
            take = min(wanted, left[s]) if _may_draw(source, net.activities[i], start[i]) else 0
            if take > 0:
                rows.append((s, take))
                left[s], wanted = left[s] - take, wanted - take
        chosen[i] = tuple(rows)
    return tuple(chosen)


def next_arrival(state: State, activity: Activity, after: int) -> int | None:
    """Return the first slot after ``after`` from which another source of the product may be drawn."""
    there = after if activity.load is None else activity.load[after]
    later = [s.first for s in state.net.sources if s.product == activity.product and s.first > there]
    first = min(later, default=None)
    if first is None or activity.load is None:
        return first
    return next((start for start in range(max(first, after + 1), state.net.slots) if activity.load[start] >= first), None)
