"""When somebody is free, and for how long without a break; under a respirator no longer than their hours of the day."""

from collections.abc import Iterable, Mapping, Sequence

from scheduler.activities.masks import runs

MOST_CHANGES = 24
"""Changed days after which spent starts are worked out afresh."""


class Days:
    """The days of the work axis, for hours under a respirator.

    Parameters
    ----------
    masks : sequence of int
        Mask of the slots of each day.
    """

    def __init__(self, masks: Sequence[int]) -> None:
        self.masks = masks
        self._runs: dict[tuple[int, int], int] = {}
        self._all: dict[int, int] = {}

    def runs(self, day: int, length: int) -> int:
        """Slots from which ``length`` slots lie in one day."""
        found = self._runs.get((day, length))
        if found is None:
            found = self._runs[day, length] = runs(self.masks[day], length)
        return found

    def all_runs(self, length: int) -> int:
        """Slots from which ``length`` slots lie in one day, whichever."""
        found = self._all.get(length)
        if found is None:
            found = 0
            for day in range(len(self.masks)):
                found |= self.runs(day, length)
            self._all[length] = found
        return found


class Hours:
    """Free time of one worker.

    Never changed: :meth:`take` and :meth:`give` make new ones, so undo is to take the old one back, together with
    everything that it has worked out.

    Attributes
    ----------
    free : int
        Mask of free slots.
    worn : Mapping[int, int]
        Slots under a respirator by day.
    known : dict of int to int
        Starts of free runs by length, negative for those under a respirator.
    spent : dict of int to int
        By length the starts on days on which the hours under a respirator do not suffice, as they were before the days
        ``since`` changed.
    """

    __slots__ = ("days", "free", "known", "limit", "since", "spent", "worn")

    def __init__(
        self,
        free: int,
        limit: int | None,
        worn: Mapping[int, int],
        days: Days,
        spent: dict[int, int] | None = None,
        since: tuple[int, ...] = (),
    ) -> None:
        self.free, self.limit, self.worn, self.days, self.since = free, limit, worn, days, since
        self.spent: dict[int, int] = {} if spent is None else spent
        self.known: dict[int, int] = {}

    def take(self, mask: int, worn: Sequence[tuple[int, int]]) -> "Hours":
        """Book slots; ``worn`` are (day, slots) under a respirator."""
        return self._changed(self.free & ~mask, worn, 1)

    def give(self, mask: int, worn: Sequence[tuple[int, int]]) -> "Hours":
        """Undo :meth:`take`."""
        return self._changed(self.free | mask, worn, -1)

    def _changed(self, free: int, worn: Sequence[tuple[int, int]], sign: int) -> "Hours":
        if not worn:
            return Hours(free, self.limit, self.worn, self.days, self.spent, self.since)
        now = dict(self.worn)
        for day, slots in worn:
            now[day] = now.get(day, 0) + sign * slots
        since = self.since + tuple([day for day, _ in worn])
        if len(since) <= MOST_CHANGES:
            return Hours(free, self.limit, now, self.days, self.spent, since)
        spent = {length: self._up_to_date(mask, length, since, now) for length, mask in self.spent.items()}
        return Hours(free, self.limit, now, self.days, spent)

    def work_out(self, key: int) -> int:
        """Fill in ``known[key]``: starts of free runs of ``abs(key)`` slots, for a negative key under a respirator.

        Days on which the hours under it do not suffice are left out as far as the whole stretch lies in the day; a
        stretch over two days is for :func:`scheduler.search.crew_choice.within_respirator` to judge.
        """
        if key > 0:
            found = runs(self.free, key)
        else:
            found = self.known.get(-key) or self.work_out(-key)
            if self.limit is not None and self.limit + key < 0:
                found &= ~self.days.all_runs(-key)
            elif self.limit is not None and self.worn:
                found &= ~self._spent(-key)
        self.known[key] = found
        return found

    def _spent(self, length: int) -> int:
        spent = self.spent.get(length)
        if spent is not None:
            return self._up_to_date(spent, length, self.since, self.worn) if self.since else spent
        spent = self._up_to_date(0, length, self.worn, self.worn)
        if not self.since:
            self.spent[length] = spent
        return spent

    def _up_to_date(self, spent: int, length: int, days: Iterable[int], worn: Mapping[int, int]) -> int:
        """Bring a mask of spent starts up to date on some days."""
        most = (self.limit or 0) - length
        for day in days:
            starts = self.days.runs(day, length)
            if worn.get(day, 0) > most:
                spent |= starts
            else:
                spent &= ~starts
        return spent
