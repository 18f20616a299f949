"""Few changes: anneal with a price for each unit that moves, and with moves that put units back where people were told."""

import math
from collections.abc import Callable, Sequence
from random import Random

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.activities.reread import whole
from scheduler.replan.frontier import Frontier
from scheduler.replan.holders import holders
from scheduler.replan.obstacles import class_at
from scheduler.replan.price import Price
from scheduler.replan.stand import Stander
from scheduler.replan.tally import Tally
from scheduler.search.energy import Energy
from scheduler.search.insertion import Inserter
from scheduler.search.moves import Moves
from scheduler.search.routes import Routes
from scheduler.search.state import State
from scheduler.search.value import lateness

HOT, COLD = 0.7, 0.03
BACK, STAND = 0.4, 0.6
"""Share of moves that take a unit back, and of the others' units that are tried where people were told first; by trial."""
MOST_OUT = 4
"""Units that may make room for one that goes back."""


class FewChanges:
    """Annealing around what people were told.

    Parameters
    ----------
    net : Network
    told : Placed
        Where people were told that everything would be.
    begin : Placed
        A whole solution to start from, such as a repair.
    price : Price
    seed : int
    goals : tuple of str
        All goals in the order in which they count.
    routes : Routes
        Of the network.
    """

    def __init__(
        self, net: Network, told: Placed, begin: Placed, price: Price, seed: int, goals: tuple[str, ...], routes: Routes
    ) -> None:
        self.net, self.random = net, Random(seed)
        self.state = State(net, routes)
        self.inserter = Inserter(net, self.state, routes=routes)
        for path in net.paths:
            self.inserter.put(path, begin)
        self.inserter.random = self.random
        self.stander = Stander(self.inserter, told)
        self.can_stand = {p.unit for p in net.paths if whole(p, told)}
        self.goals = Energy(net, self.state, goals)
        self.now = self.goals.begin()
        self.settled = lateness(net, begin.start) - self.goals.now.lateness
        self.choice = Moves(net, self.state, self.goals, self.random)
        self.tally = Tally(net, self.state, price)
        self.best, self.best_energy = begin, self.energy
        self.frontier = Frontier()
        self.moves = 0

    @property
    def energy(self) -> float:
        """The goals and the price of all that has moved, as one number to anneal on."""
        return self.now + self.tally.total

    def run(self, go_on: Callable[[int], float]) -> Placed:
        """Anneal for as long as ``go_on`` says, which takes the number of moves and returns the share of the run that is over."""
        self._keep()
        while (over := go_on(self.moves)) < 1.0:
            self.moves += 1
            self.state.settle()
            self._step(self.energy - HOT * (COLD / HOT) ** over * math.log(1 - self.random.random()))
        return self.best

    def _step(self, threshold: float) -> None:
        """Make a move and keep it if the energy stays below a threshold."""
        saved = self.state.save()
        moved = [p for p in self.net.paths if self.tally.cost[p.unit] > 0 and p.unit in self.can_stand]
        back = bool(moved) and self.random.random() < BACK
        changed = self._back(self.random.choice(moved), threshold) if back else self._better(threshold)
        if changed:
            costs = self.tally.costs(changed)
            price = self.tally.without(changed) + sum(costs)
            if (goals := self.goals.after(changed, threshold - price)) + price <= threshold:
                self.goals.accept()
                self.now = goals
                self.tally.enter(changed, costs)
                self._keep()
                return
        self.state.restore(saved)

    def _keep(self) -> None:
        if self.energy < self.best_energy - 1e-9:
            self.best, self.best_energy = self.state.placed(), self.energy
        self.frontier.note(self.tally.moved, self.settled + self.goals.now.lateness, self.energy, self.state.placed)

    def _back(self, lead: Path, threshold: float) -> list[Path]:
        """Put a unit back where people were told; those that are in its way go elsewhere, back themselves if they can."""
        out = [lead]
        self.inserter.remove(lead)
        while (obstacle := self.stander.stand(lead)) is not None:
            there = holders(self.state, obstacle, class_at(self.net, self.stander.told, obstacle.activity))
            if not there or len(out) > MOST_OUT:
                return []
            mate = self.net.paths[self.random.choice(there)]
            self.inserter.remove(mate)
            out.append(mate)
        return out if self._place_all(out[1:], out, threshold, stand=1.0) else []

    def _better(self, threshold: float) -> list[Path]:
        """Take units out that may gain and put them in again."""
        out = self.choice.choose()
        for path in out:
            self.inserter.remove(path)
        return out if self._place_all(out, out, threshold, stand=STAND) else []

    def _place_all(self, paths: Sequence[Path], out: list[Path], threshold: float, stand: float) -> bool:
        most = self.goals.most_lateness(self.now, threshold - self.tally.without(out))
        return all(self._place(path, most, out, stand) for path in paths)

    def _place(self, path: Path, most: float, out: list[Path], stand: float) -> bool:
        """Put a unit where people were told, or as early as it goes."""
        latest = self.goals.latest_end(path, most, out)
        if path.unit in self.can_stand and self.random.random() < stand and self._may_stand(path, latest):
            return True
        return self.inserter.insert(path, latest)

    def _may_stand(self, path: Path, latest: int) -> bool:
        end = self.stander.told.start[path.last] + self.net.activities[path.last].slots
        return end <= latest and self.stander.stand(path) is None
