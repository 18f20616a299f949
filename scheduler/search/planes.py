"""Counters over the work axis as bit planes: plane ``p`` holds bit ``p`` of every slot's count."""

from scheduler.activities.masks import runs


class Planes:
    """How much of a capacity is in use in each slot.

    Adding an amount to a stretch is a ripple carry over the planes, so its cost does not depend on the stretch's length.

    Parameters
    ----------
    capacity : int
        Largest use that is allowed.
    headroom : int
        By how much fixed uses may exceed the capacity.
    full : int
        Mask of all slots.
    """

    __slots__ = ("_known", "capacity", "full", "planes")

    def __init__(self, capacity: int, full: int, headroom: int = 0) -> None:
        self.capacity = capacity
        self.full = full
        self.planes = [0] * max(1, (capacity + headroom).bit_length())
        self._known: dict[tuple[int, int], int] = {}

    def add(self, mask: int, amount: int) -> None:
        """Take ``amount`` in every slot of ``mask``."""
        self._known.clear()
        at = 0
        while amount:
            if amount & 1:
                self._carry(mask, at)
            amount >>= 1
            at += 1

    def _carry(self, carry: int, at: int) -> None:
        while carry:
            if at == len(self.planes):
                self.planes.append(0)
            old = self.planes[at]
            self.planes[at] = old ^ carry
            carry &= old
            at += 1

    def give_back(self, mask: int, amount: int) -> None:
        """Undo an :meth:`add` of the same mask and amount."""
        self._known.clear()
        at = 0
        while amount:
            if amount & 1:
                borrow, q = mask, at
                while borrow:
                    new = self.planes[q] ^ borrow
                    self.planes[q] = new
                    borrow &= new
                    q += 1
            amount >>= 1
            at += 1

    def over(self, limit: int) -> int:
        """Slots in which more than ``limit`` is in use."""
        if limit < 0:
            return self.full
        if limit >> len(self.planes):
            return 0
        greater, equal = 0, self.full
        for p in range(len(self.planes) - 1, -1, -1):
            plane = self.planes[p]
            if limit >> p & 1:
                equal &= plane
            else:
                greater |= equal & plane
                equal &= ~plane
        return greater

    def blocked(self, amount: int) -> int:
        """Slots in which ``amount`` more does not fit."""
        found = self._known.get((amount, 0))
        if found is None:
            found = self._known[amount, 0] = self.over(self.capacity - amount)
        return found

    def starts(self, amount: int, length: int) -> int:
        """Slots from which ``amount`` fits for ``length`` slots."""
        found = self._known.get((amount, length))
        if found is None:
            found = self._known[amount, length] = runs(self.full & ~self.blocked(amount), length)
        return found

    def count_at(self, slot: int) -> int:
        """Return the use in one slot."""
        return sum((plane >> slot & 1) << p for p, plane in enumerate(self.planes))

    def reset(self, planes: list[int]) -> None:
        """Go back to an earlier copy of the planes."""
        if planes != self.planes:
            self.planes = planes
            self._known.clear()
