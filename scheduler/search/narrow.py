"""Pass on along each unit what is left of its starts: to the steps between, to the classes of a stay, over every wait."""

from bisect import bisect_left, bisect_right

from scheduler.activities.masks import highest, lowest, span
from scheduler.activities.network import Lag, Mask, Network, Path

Starts = list[dict[int, Mask]]
MOST_ROUNDS = 10
"""Rounds after which what is left hardly gets less; to stop early only leaves more starts than need be."""


def narrow(net: Network, starts: Starts) -> bool:
    """Narrow the starts of every activity in place; False if one is left without any.

    Parameters
    ----------
    net : Network
    starts : list of dict of int to Mask
        Starts of each activity by bay class; nothing is left out that a whole schedule within them could have.
    """
    return all(_Unit(net, path, starts).narrow() for path in net.paths)


class _Unit:
    """One unit: the earliest and the latest start of each of its steps, raised and lowered until nothing moves."""

    def __init__(self, net: Network, path: Path, starts: Starts) -> None:
        self.net, self.path, self.starts = net, path, starts
        self.steps = range(path.first, path.last + 1)
        self.lags = [lag for lag in net.lags if path.first <= lag.first <= path.last and path.first <= lag.then <= path.last]
        self.low: dict[int, int] = {}
        self.high: dict[int, int] = {}

    def narrow(self) -> bool:
        for _ in range(MOST_ROUNDS):
            before = [dict(self.starts[i]) for i in self.steps]
            self._drop_classes()
            if not self._begin():
                return False
            self._forwards()
            self._backwards()
            if not self._cut():
                return False
            if [self.starts[i] for i in self.steps] == before:
                break
        return True

    def _drop_classes(self) -> None:
        """A class in which one step of a stay has no start is none for the others either."""
        for stay in (self.net.stays[k] for k in self.path.stays):
            steps = range(stay.first, stay.last + 1)
            for c in stay.classes:
                if not all(self.starts[i].get(c, 0) for i in steps):
                    for i in steps:
                        self.starts[i].pop(c, None)

    def _begin(self) -> bool:
        for i in self.steps:
            union = 0
            for mask in self.starts[i].values():
                union |= mask
            if not union:
                return False
            self.low[i], self.high[i] = lowest(union), highest(union)
        return True

    def _end(self, i: int, start: int) -> int:
        return min(start + self.net.activities[i].slots, self.net.slots)

    def _forwards(self) -> None:
        for i in self.steps:
            if i > self.path.first:
                self.low[i] = max(self.low[i], self._end(i - 1, self.low[i - 1]))
            for lag in self.lags:
                if lag.then == i:
                    self._after(lag)

    def _after(self, lag: Lag) -> None:
        first, then, classes = lag.first, lag.then, self.starts[lag.first]
        if all(c in lag.earliest for c in classes):
            end = self._end(first, self.low[first])
            self.low[then] = max(self.low[then], min(lag.earliest[c][end] for c in classes))
        if all(c in lag.latest for c in classes):
            end = self._end(first, self.high[first])
            self.high[then] = min(self.high[then], max(lag.latest[c][end] for c in classes))

    def _backwards(self) -> None:
        for i in reversed(self.steps):
            if i < self.path.last:
                self.high[i] = min(self.high[i], self.high[i + 1] - self.net.activities[i].slots)
            for lag in self.lags:
                if lag.first == i:
                    self._before(lag)

    def _before(self, lag: Lag) -> None:
        first, classes, slots = lag.first, self.starts[lag.first], self.net.activities[lag.first].slots
        if all(c in lag.earliest for c in classes):
            end = max(bisect_right(lag.earliest[c], self.high[lag.then]) - 1 for c in classes)
            self.high[first] = min(self.high[first], end - slots)
        if all(c in lag.latest for c in classes):
            end = min(bisect_left(lag.latest[c], self.low[lag.then]) for c in classes)
            self.low[first] = max(self.low[first], end - slots)

    def _cut(self) -> bool:
        for i in self.steps:
            if not 0 <= self.low[i] <= self.high[i]:
                return False
            window = span(self.low[i], self.high[i] + 1)
            self.starts[i] = {c: mask & window for c, mask in self.starts[i].items()}
        return True
