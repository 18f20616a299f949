"""The price of changes kept up to date unit by unit, so that a move costs no walk over the whole network."""

from collections.abc import Iterable, Sequence

from scheduler.activities.network import Network, Path
from scheduler.replan.price import Price
from scheduler.search.state import State


class Tally:
    """Price of the changes of all units that are in.

    Parameters
    ----------
    net : Network
    state : State
        With every unit placed.
    price : Price

    Attributes
    ----------
    cost : dict of str to float
        By unit; nothing for one that has not moved.
    total : float
    moved : int
        Units that have moved.
    """

    def __init__(self, net: Network, state: State, price: Price) -> None:
        self.state, self.price = state, price
        self.cost = {path.unit: price.of(state, path) for path in net.paths}
        self.total = sum(self.cost.values())
        self.moved = sum(cost > 0 for cost in self.cost.values())

    def without(self, paths: Iterable[Path]) -> float:
        """Price of all units but some."""
        return self.total - sum(self.cost[path.unit] for path in paths)

    def costs(self, paths: Iterable[Path]) -> list[float]:
        """Price of units as they stand now."""
        return [self.price.of(self.state, path) for path in paths]

    def enter(self, paths: Sequence[Path], costs: Sequence[float]) -> None:
        """Make prices the present ones."""
        for path, cost in zip(paths, costs, strict=True):
            was = self.cost[path.unit]
            self.cost[path.unit] = cost
            self.total += cost - was
            self.moved += (cost > 0) - (was > 0)
