"""How much of something is in use in each slot, as numbers alone: what a room keeps of everybody's work."""

from dataclasses import dataclass
from math import gcd

from scheduler.search.planes import Planes


@dataclass(frozen=True, slots=True)
class Used:
    """Bit planes of what is in use.

    Attributes
    ----------
    unit : int
        Greatest unit in which all of it can be counted; 0 where nothing is in use.
    planes : tuple of int
        Plane ``p`` holds bit ``p`` of every slot's count of units.
    """

    unit: int = 0
    planes: tuple[int, ...] = (0,)

    def finer(self, unit: int) -> "Used":
        """Return the same in a unit that divides this one too, and ``unit``."""
        common = gcd(self.unit, unit)
        if common == self.unit or not self.unit:
            return Used(common, self.planes)
        found, times = Planes(0, 0), self.unit // common
        for p, plane in enumerate(self.planes):
            found = found.plus(plane, times << p)
        return Used(common, found.planes)

    def plus(self, mask: int, amount: int) -> "Used":
        """Take an amount that the unit divides, in every slot of a mask."""
        return Used(self.unit, Planes(0, 0, self.planes).plus(mask, amount // self.unit).planes)

    def minus(self, mask: int, amount: int) -> "Used":
        """Give back what was taken."""
        return Used(self.unit, Planes(0, 0, self.planes).minus(mask, amount // self.unit).planes)

    @property
    def peak(self) -> int:
        """Most that is in use at once."""
        most, there = 0, -1
        for p in range(len(self.planes) - 1, -1, -1):
            if there & self.planes[p]:
                most, there = most | 1 << p, there & self.planes[p]
        return most * self.unit


NONE_USED = Used()
