"""A unit as a chain of the steps that matter, with what lies between two of them condensed.

A *key* is a step whose start the relaxation chooses. A step that no film belongs to and that lies inside a wait between two
others (wiping between abrading and the first coat, inspection between the last coat and the hand-over) is no key: the
earliest and the latest that it can be, seen from the keys beside it, stand for it. Every schedule maps to the starts of its
keys, and each relation here is one that every schedule keeps.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.flags import flags_of
from scheduler.activities.network import Activity, Curve, Lag, Network, Path
from scheduler.bound.capacity import Capacities
from scheduler.bound.places import Place

Slots = NDArray[np.int64]
Flags = NDArray[np.bool_]


def keys_of(path: Path, lags: Sequence[Lag], activities: Sequence[Activity]) -> list[int]:
    """Activities whose starts are chosen: the first, the last, films, and what lies inside no wait."""
    inside = {a for lag in lags for a in range(lag.first + 1, lag.then)}
    return [i for i in range(path.first, path.last + 1) if activities[i].product or i not in inside]


@dataclass(frozen=True, slots=True)
class Between:
    """From a step that starts at ``t`` to a later one: ``earliest[t]`` and ``latest[t]`` of its start, None for no limit."""

    earliest: Slots
    latest: Slots | None


class Reach:
    """What can follow what, in slots, for one network.

    Parameters
    ----------
    net : Network
    capacities : Capacities
    """

    def __init__(self, net: Network, capacities: Capacities) -> None:
        self.net, self.n = net, net.slots
        self.capacities = capacities
        self.roomy = [capacities.roomy(activity) for activity in net.activities]
        self.into: list[list[Lag]] = [[] for _ in net.activities]
        for lag in net.lags:
            self.into[lag.then].append(lag)
        self._next: dict[int, Slots] = {}
        self._arrays: dict[tuple[int, ...], Slots] = {}

    def starts(self, i: int, place: Place) -> int:
        """Mask of the slots at which an activity may start in one of the classes of a place and has what it takes."""
        mask = 0
        for c in place:
            mask |= self.net.activities[i].starts.get(c, 0)
        if place != (0,):
            mask &= self.capacities.in_bays(place, self.net.activities[i].slots)
        return mask & self.roomy[i]

    def next_start(self, mask: int) -> Slots:
        """First start at or after each slot, shape (n + 1,); ``n`` for none."""
        found = self._next.get(mask)
        if found is None:
            flags = flags_of(mask, self.n)
            raw = np.where(flags, np.arange(self.n), self.n)
            found = self._next[mask] = np.append(np.minimum.accumulate(raw[::-1])[::-1], self.n)
        return found

    def last_start(self, mask: int) -> Slots:
        """Last start at or before each slot, shape (n,); -1 for none."""
        return np.maximum.accumulate(np.where(flags_of(mask, self.n), np.arange(self.n), -1))

    def curve(self, curves: Sequence[Curve | None], *, latest: bool) -> Slots | None:
        """Loosest of the curves of several classes; None where one of them does not bind."""
        if any(c is None for c in curves) or not curves:
            return None
        key = (int(latest), *(id(c) for c in curves))
        if key not in self._arrays:
            table = np.array(list(dict.fromkeys(curves)), dtype=np.int64)
            self._arrays[key] = table.max(axis=0) if latest else table.min(axis=0)
        return self._arrays[key]

    def earliest(self, lag: Lag, place: Place) -> Slots | None:
        """Curve of the minimum side of a lag whose first step is in a place."""
        return self.curve([lag.earliest.get(c) for c in place], latest=False)

    def latest(self, lag: Lag, place: Place) -> Slots | None:
        """Curve of the maximum side of a lag whose first step is in a place."""
        return self.curve([lag.latest.get(c) for c in place], latest=True)

    def between(self, i: int, j: int, where: dict[int, Place]) -> Between:
        """Relate the starts of two keys; ``where`` has the place of each activity from ``i`` to ``j``."""
        n, acts = self.n, self.net.activities
        ends = {i: np.minimum(np.arange(n) + acts[i].slots, n)}
        for a in range(i + 1, j):
            start = self.next_start(self.starts(a, where[a]))[self._after(a, i, ends, where)]
            ends[a] = np.minimum(start + acts[a].slots, n)
            ends[a][start >= n] = n
        earliest = self._after(j, i, ends, where)
        latest = None
        for lag in self.into[j]:
            curve = self.latest(lag, where[i]) if lag.first == i else None
            if curve is not None:
                limit = curve[ends[i]]
                latest = limit if latest is None else np.minimum(latest, limit)
        return Between(earliest, latest)

    def earliest_end(self, i: int, last: int, place: Place) -> Slots:
        """Earliest end of step ``last`` if step ``i`` of its stay starts at each slot; ``n`` for none."""
        earliest = self.between(i, last, dict.fromkeys(range(i, last + 1), place)).earliest
        start = self.next_start(self.starts(last, place))[earliest]
        return np.minimum(start + self.net.activities[last].slots, self.n)

    def _after(self, a: int, i: int, ends: dict[int, Slots], where: dict[int, Place]) -> Slots:
        least = ends[a - 1]
        for lag in self.into[a]:
            curve = self.earliest(lag, where[lag.first]) if lag.first in ends and lag.first >= i else None
            if curve is not None:
                least = np.maximum(least, np.minimum(curve[ends[lag.first]], self.n))
        return least

    def latest_begin(self, first: int, j: int, place: Place) -> Slots:
        """Latest start of condensed step ``first`` if key ``j`` of its stay starts at each slot; -1 for none."""
        n, acts = self.n, self.net.activities
        start = {j: np.arange(n)}
        for a in range(j - 1, first - 1, -1):
            until = start[a + 1]
            for q in range(a + 1, j + 1):
                for lag in self.into[q]:
                    curve = self.earliest(lag, place) if lag.first == a else None
                    if curve is not None:
                        until = np.minimum(until, np.searchsorted(curve, start[q], side="right") - 1)
            begin = until - acts[a].slots
            start[a] = np.where(begin >= 0, self.last_start(self.starts(a, place))[np.maximum(begin, 0)], -1)
        return start[first]
