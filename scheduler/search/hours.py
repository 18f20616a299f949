"""When everybody is free, and for how long without a break; under a respirator no longer than their hours of the day.

The axis is cut into stretches of whole days. What a step takes changes one of them, seldom two, so what was worked out for the
others stays, and the cost does not depend on the length of the plan.
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby

from scheduler.activities.masks import below, runs

WIDTH = 192
"""Slots of a stretch at least: a few days, and few enough that each operation on its mask is as quick as on any small number."""
FREE = 0

Row = list[dict[int, int]]


class Hours:
    """Free time of all workers.

    Parameters
    ----------
    free : sequence of int
        For each worker the mask of free slots.
    limits : sequence of int or None
        For each the slots a day under a respirator.
    worn : sequence of Mapping[int, int]
        For each the slots under a respirator by day that are fixed already.
    day : sequence of int
        Day of each slot, ascending.
    longest : int
        Slots of the longest step.

    Attributes
    ----------
    of : list of int
        Stretch of each slot.
    first, width : list of int
        First slot of each stretch and how many there are.
    rows : list of Row
        By stretch and worker: under ``FREE`` the free slots, counted from the stretch's first one and with as many after its
        last one as a step may reach; under other keys what was worked out from that. A change makes a new entry, so undo
        is to take the old one back.
    worn : list of dict
        For each worker the slots under a respirator by day.
    crews : list of dict
        For each stretch the starts at which the people for a kind of step are found; all new once anybody's hours change.
    """

    def __init__(
        self,
        free: Sequence[int],
        limits: Sequence[int | None],
        worn: Sequence[Mapping[int, int]],
        day: Sequence[int],
        longest: int,
    ) -> None:
        self.limits, self.day = limits, day
        unworn = dict.fromkeys(day, 0)
        self.worn = [unworn | dict(each) for each in worn]
        self.reach = max(longest - 1, 0)
        self._cut(day)
        self._whole = [below(width + self.reach) for width in self.width]
        self.rows: list[Row] = [
            [{FREE: mask >> first & whole} for mask in free] for first, whole in zip(self.first, self._whole, strict=True)
        ]
        self.crews: list[dict[int, int]] = [{} for _ in self.first]
        self._in_day: dict[tuple[int, int], list[tuple[int, int]]] = {}

    def _cut(self, day: Sequence[int]) -> None:
        """Cut the axis into whole days, several to a stretch."""
        self.of: list[int] = []
        self.first, self.width = [0], [0]
        for _, slots in groupby(day):
            if self.width[-1] >= WIDTH:
                self.first.append(len(self.of))
                self.width.append(0)
            count = len(list(slots))
            self.of += [len(self.first) - 1] * count
            self.width[-1] += count

    def free(self, worker: int) -> int:
        """Mask of a worker's free slots."""
        mask = 0
        for first, width, row in zip(self.first, self.width, self.rows, strict=True):
            mask |= (row[worker][FREE] & below(width)) << first
        return mask

    def entries(self, runs: Iterable[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
        """Stretch, worker and mask of each entry that reaches to any slot of some runs (worker, start, end)."""
        found: dict[tuple[int, int], int] = {}
        for worker, start, end in runs:
            for k in range(self.of[max(start - self.reach, 0)], self.of[end - 1] + 1):
                shift, run = start - self.first[k], (1 << (end - start)) - 1
                mask = run << shift if shift >= 0 else run >> -shift
                found[k, worker] = found.get((k, worker), 0) | mask & self._whole[k]
        return [(k, worker, mask) for (k, worker), mask in found.items()]

    def starts(self, stretch: int, worker: int, key: int) -> int:
        """Starts in a stretch of free runs of ``abs(key)`` slots, for a negative key under a respirator.

        Days on which the hours under it do not suffice are left out as far as the whole run lies in the day; a run over
        two days is for :func:`scheduler.search.crew_choice.within_respirator` to judge.
        """
        known = self.rows[stretch][worker]
        found = runs(known[FREE], abs(key)) & ((1 << self.width[stretch]) - 1)
        limit = self.limits[worker]
        if key < 0 and limit is not None:
            worn = self.worn[worker]
            for day, in_day in self._within_days(stretch, -key):
                if worn[day] > limit + key:
                    found &= ~in_day
        known[key] = found
        return found

    def _within_days(self, stretch: int, length: int) -> list[tuple[int, int]]:
        """Days of a stretch with the starts from which a run lies in that day."""
        found = self._in_day.get((stretch, length))
        if found is None:
            first, found, begin = self.first[stretch], [], 0
            for day, slots in groupby(self.day[first : first + self.width[stretch]]):
                end = begin + len(list(slots))
                if end - begin >= length:
                    found.append((day, ((1 << (end - begin - length + 1)) - 1) << begin))
                begin = end
            self._in_day[stretch, length] = found
        return found

    def suffice(self, worker: int, start: int, slots: int) -> bool:
        """Whether the hours under a respirator suffice for a run that lies in one day; of others nothing is said."""
        limit, day = self.limits[worker], self.day[start]
        return limit is None or self.worn[worker][day] + slots <= limit or self.day[start + slots - 1] != day
