"""Steps that are fixed to one moment and together need more than there is."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from scheduler.activities.masks import lowest
from scheduler.activities.network import Activity, Network
from scheduler.bound.capacity import Capacities


@dataclass(frozen=True, slots=True)
class Overload:
    """Activities that cannot run at once, and the rule by which they cannot."""

    activities: tuple[int, ...]
    rule: str


def fixed_start(activity: Activity) -> int | None:
    """Return the one slot to which a person has fixed a step; None if it is not fixed."""
    masks = activity.windows.get("pinned_work", {}).values()
    union = 0
    for mask in masks:
        union |= mask
    return lowest(union) if union.bit_count() == 1 else None


def overload(net: Network) -> Overload | None:
    """Find fixed steps that overload something, as few of them as it takes; None if there are none."""
    capacities = Capacities(net)
    uses: dict[int, list[tuple[int, int, int, int]]] = {}
    for i, start, resource, amount, end in _fixed_uses(net, capacities):
        uses.setdefault(resource, []).append((i, amount, start, end))
    for resource, rows in uses.items():
        taken = np.zeros(net.slots, dtype=np.int64)
        for _, amount, start, end in rows:
            taken[start:end] += amount
        over = np.flatnonzero(taken > capacities.by_slot[resource])
        if len(over):
            there = [(amount, i) for i, amount, start, end in rows if start <= over[0] < end]
            return Overload(_fewest(there, int(capacities.by_slot[resource][over[0]])), capacities.rules[resource])
    return None


def _fixed_uses(net: Network, capacities: Capacities) -> Iterator[tuple[int, int, int, int, int]]:
    for i, activity in enumerate(net.activities):
        start = fixed_start(activity)
        if start is not None:
            for resource, amount, tail in capacities.uses(activity):
                if resource not in capacities.by_day:
                    yield i, start, resource, amount, min(start + activity.slots + tail, net.slots)


def _fewest(there: list[tuple[int, int]], capacity: int) -> tuple[int, ...]:
    """Take the largest needs until they are more than there is."""
    chosen: list[int] = []
    total = 0
    for amount, i in sorted(there, key=lambda row: (-row[0], row[1])):
        chosen.append(i)
        total += amount
        if total > capacity:
            break
    return tuple(sorted(chosen))
