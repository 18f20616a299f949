"""What calendar and weather alone say of a unit's steps: starts from which the waits to its other steps cannot be kept are out.

A start is left out only if no start of the other step lies in its wait, whatever else is in the shop. So nothing that could be
placed is lost, and insertion does not run into windows that close before the next step may begin.
"""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.flags import flags_of, mask_of
from scheduler.activities.masks import Masks, below, within
from scheduler.activities.network import Activity, Curve, Lag, Network, Path

Pair = tuple[int, int, int | None, int, int, int]
Tables = tuple[int, int, int, int, int, int, bool]


class Foresight:
    """Starts that are left, remembered for what is alike.

    Parameters
    ----------
    net : Network
    """

    def __init__(self, net: Network) -> None:
        self.net = net
        self._arrays: dict[int, NDArray[np.int64]] = {}
        self._pairs: dict[Pair, tuple[int, int]] = {}
        self._tables: dict[Tables, tuple[Masks, Masks, Masks, Masks]] = {}
        self._whole: dict[tuple[int, int], tuple[Masks, Masks]] = {}

    def starts(self, path: Path, lags: Sequence[Lag]) -> list[Masks]:
        """Starts by bay class of each activity of a path.

        Parameters
        ----------
        path : Path
        lags : sequence of Lag
            Those between its activities.
        """
        left = [self._within_axis(self.net.activities[i]) for i in range(path.first, path.last + 1)]
        for lag in sorted(lags, key=lambda lag: (-lag.first, -lag.then)):
            if lag.latest:
                first, then = lag.first - path.first, lag.then - path.first
                left[first], left[then] = self._narrowed(lag, left[first], left[then])
        return left

    def _within_axis(self, activity: Activity) -> Masks:
        """Starts from which a step ends on the axis. Tables are kept beside what is made of them, so that ids stay theirs."""
        key = (id(activity.starts), activity.slots)
        if key not in self._whole:
            axis = below(self.net.slots - activity.slots + 1)
            fits = all(not mask & ~axis for mask in {id(m): m for m in activity.starts.values()}.values())
            self._whole[key] = (activity.starts, activity.starts if fits else within(activity.starts, axis))
        return self._whole[key][1]

    def _narrowed(self, lag: Lag, first: Masks, then: Masks) -> tuple[Masks, Masks]:
        activities = self.net.activities
        together = activities[lag.first].stay == activities[lag.then].stay
        between = sum(activities[i].slots for i in range(lag.first + 1, lag.then))
        key = (id(first), id(then), id(lag.earliest), id(lag.latest), activities[lag.first].slots, between, together)
        if key not in self._tables:
            self._tables[key] = (first, then, *self._narrow(lag, first, then, between, together=together))
        return self._tables[key][2:]

    def _narrow(self, lag: Lag, first: Masks, then: Masks, between: int, *, together: bool) -> tuple[Masks, Masks]:
        if any(c not in lag.latest for c in first):
            return first, then
        anywhere = 0
        for mask in then.values():
            anywhere |= mask
        kept: dict[int, int] = {}
        reached: dict[int, int] = {}
        seen: dict[tuple[int, int, int, int], tuple[int, int]] = {}
        for c, mask in first.items():
            other = then.get(c, 0) if together else anywhere
            same = (id(mask), id(other), id(lag.earliest.get(c)), id(lag.latest[c]))
            if same not in seen:
                seen[same] = self._pair(mask, other, lag, c, between)
            kept[c], reached[c] = seen[same]
        if together:
            met = {(id(mask), id(reached.get(c))): mask & reached.get(c, 0) for c, mask in then.items()}
            return kept, {c: met[id(mask), id(reached.get(c))] for c, mask in then.items()}
        union = 0
        for mask in reached.values():
            union |= mask
        return kept, within(then, union)

    def _pair(self, first: int, then: int, lag: Lag, bay_class: int, between: int) -> tuple[int, int]:
        """Starts of ``first`` that have a start of ``then`` in their wait, and the slots that these waits cover."""
        slots, earliest, latest = self.net.activities[lag.first].slots, lag.earliest.get(bay_class), lag.latest[bay_class]
        key = (first, then, id(earliest) if earliest else None, id(latest), slots, between)
        found = self._pairs.get(key)
        if found is None:
            found = self._pairs[key] = self._work_out(first, then, earliest, latest, slots, between)
        return found

    def _work_out(
        self, first: int, then: int, earliest: Curve | None, latest: Curve, slots: int, between: int
    ) -> tuple[int, int]:
        n = self.net.slots
        starts = np.flatnonzero(flags_of(first, n))
        starts = starts[starts + slots <= n]
        ends = starts + slots
        low = ends + between
        if earliest is not None:
            low = np.maximum(low, self._array(earliest)[ends])
        high = np.minimum(self._array(latest)[ends], n - 1)
        low = np.minimum(low, n)
        count = np.concatenate([[0], np.cumsum(flags_of(then, n))])
        works = (high >= low) & (count[np.maximum(high + 1, low)] > count[low])
        keep = np.zeros(n, dtype=bool)
        keep[starts[works]] = True
        covered = np.bincount(low[works], minlength=n + 1) - np.bincount(high[works] + 1, minlength=n + 1)
        return mask_of(keep), mask_of(np.cumsum(covered)[:n] > 0)

    def _array(self, curve: Mapping[int, int] | Curve) -> NDArray[np.int64]:
        if id(curve) not in self._arrays:
            self._arrays[id(curve)] = np.asarray(curve, dtype=np.int64)
        return self._arrays[id(curve)]
