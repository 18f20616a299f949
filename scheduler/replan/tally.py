"""The goals of a state kept up to date unit by unit, so that a move costs no walk over the whole network."""

from collections.abc import Iterable

from scheduler.activities.network import Due, Network, Path
from scheduler.material.pack import at_least_ul
from scheduler.replan.price import Price
from scheduler.search.state import State

PACK, FINISH = 0.05, 0.02
"""Weighted days late that a pack and a unit's day on the site are worth while annealing: a slope, not a goal."""


class Tally:
    """Lateness, packs, finish and price of changes of the units that are in.

    Parameters
    ----------
    net : Network
    state : State
        With every unit placed.
    price : Price
    """

    def __init__(self, net: Network, state: State, price: Price) -> None:
        self.net, self.state, self.price = net, state, price
        self.due_of = {due.order: due for due in net.dues}
        self.slots_a_day = max(1.0, net.slots / (net.day[-1] + 1)) if net.day else 1.0
        self.need_ul: dict[tuple[str, int], int] = {}
        self.late = {due.order: self._late(due) for due in net.dues}
        self.cost = {path.unit: price.of(state, path) for path in net.paths}
        self.end = {path.unit: state.start[path.last] for path in net.paths}
        for path in net.paths:
            self._films(path, 1)

    def energy(self) -> float:
        """One number to anneal on."""
        packs = sum(max(0, -(-ul // self.net.sheets[product].usable_ul)) for (product, _), ul in self.need_ul.items())
        finish = sum(self.end.values()) / self.slots_a_day
        return self.lateness() + sum(self.cost.values()) + PACK * packs + FINISH * finish

    def lateness(self) -> int:
        """Weighted days late."""
        return sum(self.late.values())

    def taken_out(self, paths: Iterable[Path]) -> None:
        """Forget the films of units that are about to be taken out."""
        for path in paths:
            self._films(path, -1)

    def put_in(self, paths: Iterable[Path]) -> None:
        """Count units that are in again."""
        orders = set()
        for path in paths:
            self._films(path, 1)
            self.cost[path.unit] = self.price.of(self.state, path)
            self.end[path.unit] = self.state.start[path.last]
            orders.add(path.order)
        for order in orders:
            if order in self.late:
                self.late[order] = self._late(self.due_of[order])

    def _late(self, due: Due) -> int:
        days = [due.late[self.state.start[i] + self.net.activities[i].slots] for i in due.members]
        days += due.settled
        return due.weight * (max(days) if due.together else sum(days)) if days else 0

    def _films(self, path: Path, sign: int) -> None:
        for i in range(path.first, path.last + 1):
            activity = self.net.activities[i]
            if activity.product:
                key = (activity.product, self.net.day[self.state.start[i]])
                from_opened = sum(ul for s, ul in self.state.draws[i] if self.net.sources[s].begun_ul)
                self.need_ul[key] = self.need_ul.get(key, 0) + sign * (at_least_ul(activity.volume_ml) - from_opened)
