"""What a change costs: each unit that moves has a price, the dearer the nearer its first changed step is."""

from dataclasses import dataclass

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.search.state import State

TOMORROW = 3.0
"""A change today costs this many times the plain price on top of it; half as much more for each day ahead."""


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
        return 0.0 if first is None else self.days_late * nearness(self.net.day[first])

    def first_change(self, state: State, path: Path) -> int | None:
        """First slot at which people who were told of a unit would notice; None if nothing changes."""
        told, start = self.told.start, state.start
        for i in range(path.first, path.last + 1):
            if told[i] >= 0 and told[i] != start[i]:
                return min(told[i], max(start[i], 0))
        for k in path.stays:
            if self.told.bay_class[k] >= 0 and self.told.bay_class[k] != state.bay_class[k]:
                return max(0, told[self.net.stays[k].first])
        return None


def nearness(day: int) -> float:
    """How many times the plain price a change on a day counts, day 0 being the day of the plan's start."""
    return float(1.0 + TOMORROW * 0.5**day)
