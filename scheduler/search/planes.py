"""Counters over the work axis as bit planes: plane ``p`` holds bit ``p`` of every slot's count."""

from scheduler.activities.masks import runs


class Planes:
    """How much of a capacity is in use in each slot.

    Never changed: :meth:`plus` and :meth:`minus` make new counters, so undo is to take the old one back, together with
    everything that it has worked out. Adding an amount to a stretch is a ripple carry over the planes, so its cost does
    not depend on the stretch's length.

    Parameters
    ----------
    capacity : int
        Largest use that is allowed.
    wide : int
        Mask of all slots and of as many after them as a use may reach beyond the axis, where everything is free.
    """

    __slots__ = ("_known", "capacity", "planes", "wide")

    def __init__(self, capacity: int, wide: int, planes: tuple[int, ...] = (0,)) -> None:
        self.capacity = capacity
        self.wide = wide
        self.planes = planes
        self._known: dict[tuple[int, int], int] = {}

    def plus(self, mask: int, amount: int) -> "Planes":
        """Take ``amount`` in every slot of ``mask``."""
        planes, at = list(self.planes), 0
        while amount:
            if amount & 1:
                carry, q = mask, at
                while carry:
                    if q >= len(planes):
                        planes += [0] * (q + 1 - len(planes))
                    old = planes[q]
                    planes[q] = old ^ carry
                    carry &= old
                    q += 1
            amount >>= 1
            at += 1
        return Planes(self.capacity, self.wide, tuple(planes))

    def minus(self, mask: int, amount: int) -> "Planes":
        """Give back what :meth:`plus` took with the same mask and amount."""
        planes, at = list(self.planes), 0
        while amount:
            if amount & 1:
                borrow, q = mask, at
                while borrow:
                    new = planes[q] ^ borrow
                    planes[q] = new
                    borrow &= new
                    q += 1
            amount >>= 1
            at += 1
        return Planes(self.capacity, self.wide, tuple(planes))

    def over(self, limit: int) -> int:
        """Slots in which more than ``limit`` is in use."""
        planes = self.planes
        if limit < 0:
            return self.wide
        if limit >> len(planes):
            return 0
        greater, equal = 0, self.wide
        for p in range(len(planes) - 1, -1, -1):
            if limit & ((2 << p) - 1) == 0:
                for plane in planes[: p + 1]:
                    greater |= equal & plane
                return greater
            if limit >> p & 1:
                equal &= planes[p]
            else:
                over = equal & planes[p]
                greater |= over
                equal ^= over
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
            found = self._known[amount, length] = runs(self.wide ^ self.blocked(amount), length)
        return found

    def count_at(self, slot: int) -> int:
        """Return the use in one slot."""
        return sum((plane >> slot & 1) << p for p, plane in enumerate(self.planes))
