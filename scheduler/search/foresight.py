"""What calendar and weather alone say of a unit's steps: starts from which the waits to its other steps cannot be kept are out.

A start is left out only if no start of the other step lies in its wait, whatever else is in the shop. So nothing that could be
placed is lost, and insertion does not run into windows that close before the next step may begin.
"""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.masks import below, mask_of
from scheduler.activities.network import Curve, Lag, Network, Path

Masks = dict[int, int]
Key = tuple[int, int, int | None, int, int, int]


class Foresight:
    """Starts that are left, remembered for what is alike.

    Parameters
    ----------
    net : Network
    """

    def __init__(self, net: Network) -> None:
        self.net = net
        self._arrays: dict[int, NDArray[np.int64]] = {}
        self._known: dict[Key, tuple[int, int]] = {}

    def starts(self, path: Path, lags: Sequence[Lag]) -> list[Masks]:
        """Starts by bay class of each activity of a path.

        Parameters
        ----------
        path : Path
        lags : sequence of Lag
            Those between its activities.
        """
        left: list[Masks] = [dict(self.net.activities[i].starts) for i in range(path.first, path.last + 1)]
        for lag in sorted(lags, key=lambda lag: (-lag.first, -lag.then)):
            if lag.latest:
                self._narrow(path, lag, left)
        return left

    def _narrow(self, path: Path, lag: Lag, left: list[Masks]) -> None:
        first, then = left[lag.first - path.first], left[lag.then - path.first]
        together = self.net.activities[lag.first].stay == self.net.activities[lag.then].stay
        between = sum(self.net.activities[i].slots for i in range(lag.first + 1, lag.then))
        reached: Masks = {}
        for c, mask in first.items():
            if c not in lag.latest:
                return
            others = (c,) if together else tuple(then)
            union = 0
            for other in others:
                union |= then.get(other, 0)
            first[c], reached[c] = self._pair(mask, union, lag, c, between)
        for c in then:
            mask = reached.get(c, 0) if together else 0
            for each in () if together else reached.values():
                mask |= each
            then[c] &= mask

    def _pair(self, first: int, then: int, lag: Lag, bay_class: int, between: int) -> tuple[int, int]:
        """Starts of ``first`` that have a start of ``then`` in their wait, and the slots that these waits cover."""
        slots, earliest, latest = self.net.activities[lag.first].slots, lag.earliest.get(bay_class), lag.latest[bay_class]
        key = (first, then, id(earliest) if earliest else None, id(latest), slots, between)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._work_out(first, then, earliest, latest, slots, between)
        return found

    def _work_out(
        self, first: int, then: int, earliest: Curve | None, latest: Curve, slots: int, between: int
    ) -> tuple[int, int]:
        n = self.net.slots
        starts = np.flatnonzero(self._flags(first))
        starts = starts[starts + slots <= n]
        ends = starts + slots
        low = ends + between
        if earliest is not None:
            low = np.maximum(low, self._array(earliest)[ends])
        high = np.minimum(self._array(latest)[ends], n - 1)
        low = np.minimum(low, n)
        count = np.concatenate([[0], np.cumsum(self._flags(then))])
        works = (high >= low) & (count[np.maximum(high + 1, low)] > count[low])
        keep = np.zeros(n, dtype=bool)
        keep[starts[works]] = True
        covered = np.bincount(low[works], minlength=n + 1) - np.bincount(high[works] + 1, minlength=n + 1)
        return mask_of(keep), mask_of(np.cumsum(covered)[:n] > 0)

    def _flags(self, mask: int) -> NDArray[np.bool_]:
        n = self.net.slots
        octets = np.frombuffer((mask & below(n)).to_bytes((n + 7) // 8, "little"), dtype=np.uint8)
        return np.unpackbits(octets, count=n, bitorder="little").astype(bool)

    def _array(self, curve: Mapping[int, int] | Curve) -> NDArray[np.int64]:
        if id(curve) not in self._arrays:
            self._arrays[id(curve)] = np.asarray(curve, dtype=np.int64)
        return self._arrays[id(curve)]
