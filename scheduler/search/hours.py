"""When somebody is free, and for how long without a break; under a respirator no longer than their hours of the day."""

from collections.abc import Iterable, Mapping, Sequence

from scheduler.activities.masks import runs


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

    def runs(self, day: int, length: int) -> int:
        """Slots from which ``length`` slots lie in one day."""
        found = self._runs.get((day, length))
        if found is None:
            found = self._runs[day, length] = runs(self.masks[day], length)
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
        By length the starts on days on which the hours under a respirator do not suffice.
    """

    __slots__ = ("days", "free", "known", "limit", "spent", "worn")

    def __init__(self, free: int, limit: int | None, worn: Mapping[int, int], days: Days) -> None:
        self.free, self.limit, self.worn, self.days = free, limit, worn, days
        self.known: dict[int, int] = {}
        self.spent: dict[int, int] = {}

    def take(self, mask: int, worn: Sequence[tuple[int, int]]) -> "Hours":
        """Book slots; ``worn`` are (day, slots) under a respirator."""
        return self._changed(self.free & ~mask, worn, 1)

    def give(self, mask: int, worn: Sequence[tuple[int, int]]) -> "Hours":
        """Undo :meth:`take`."""
        return self._changed(self.free | mask, worn, -1)

    def _changed(self, free: int, worn: Sequence[tuple[int, int]], sign: int) -> "Hours":
        if not worn:
            changed = Hours(free, self.limit, self.worn, self.days)
            changed.spent = self.spent
            return changed
        now = dict(self.worn)
        for day, slots in worn:
            now[day] = now.get(day, 0) + sign * slots
        changed = Hours(free, self.limit, now, self.days)
        for length, mask in self.spent.items():
            changed.spent[length] = changed._up_to_date(mask, length, [day for day, _ in worn])
        return changed

    def work_out(self, key: int) -> int:
        """Fill in ``known[key]``: starts of free runs of ``abs(key)`` slots, for a negative key under a respirator.

        Days on which the hours under it do not suffice are left out as far as the whole stretch lies in the day; a
        stretch over two days is for :func:`scheduler.search.crew_choice.within_respirator` to judge.
        """
        if key > 0:
            found = runs(self.free, key)
        else:
            found = self.known.get(-key) or self.work_out(-key)
            if self.limit is not None and self.worn:
                found &= ~self._spent(-key)
        self.known[key] = found
        return found

    def _spent(self, length: int) -> int:
        found = self.spent.get(length)
        if found is None:
            found = self.spent[length] = self._up_to_date(0, length, self.worn)
        return found

    def _up_to_date(self, spent: int, length: int, days: Iterable[int]) -> int:
        """Bring a mask of spent starts up to date on some days."""
        for day in days:
            starts = self.days.runs(day, length)
            if self.limit is not None and self.worn.get(day, 0) + length > self.limit:
                spent |= starts
            else:
                spent &= ~starts
        return spent
