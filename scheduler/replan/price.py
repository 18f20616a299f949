"""What a change costs: each unit that moves has a price, the dearer the nearer its first changed step is."""

from dataclasses import dataclass

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.search.state import State

TOMORROW = 3.0
"""A change today costs this many times the plain price on top of it; half as much more for each day ahead."""
LEAST = 1e-6
"""A move costs something at any price, so that of two ways that are alike the one that moves less is taken."""


@dataclass(frozen=True)
class Price:
    """Price of moving units away from what people were told.

    Attributes
    ----------
    told : Placed
    days_late : float
        Weighted days late that one moved unit far ahead is worth.
    """

    net: Network
    told: Placed
    days_late: float

    def of(self, state: State, path: Path) -> float:
        """Price of a unit as it stands in a state; nothing for one that has not moved, or was never told."""
        first = self.first_change(state, path)
        return 0.0 if first is None else max(self.days_late, LEAST) * nearness(self.net.day[first])

    def first_change(self, state: State, path: Path) -> int | None:
        """First slot at which people who were told of a unit would notice; None if nothing changes."""
        told, start = self.told.start, state.start
        if all(told[i] < 0 for i in range(path.first, path.last + 1)):
            return None
        for i in range(path.first, path.last + 1):
            if told[i] != start[i]:
                return max(0, start[i] if told[i] < 0 else min(told[i], start[i]))
        for k in path.stays:
            if self.told.bay_class[k] != state.bay_class[k]:
                return max(0, told[self.net.stays[k].first])
        return None


def nearness(day: int) -> float:
    """How many times the plain price a change on a day counts, day 0 being the day of the plan's start."""
    return float(1.0 + TOMORROW * 0.5**day)
