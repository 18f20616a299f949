"""Few changes: anneal with a price for each unit that moves, and with moves that put units back where people were told."""

import math
from collections.abc import Callable, Iterable
from random import Random

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.activities.reread import whole
from scheduler.replan.price import Price
from scheduler.replan.stand import Stander
from scheduler.replan.tally import Tally
from scheduler.search.insertion import Inserter
from scheduler.search.state import State

HOT, COLD = 0.7, 0.03
BACK, LATE = 0.35, 0.75
"""Share of moves that take a unit back, and of the others that begin with a late unit; found by trial."""
MATES = 6


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
    """

    def __init__(self, net: Network, told: Placed, begin: Placed, price: Price, seed: int) -> None:
        self.net, self.random = net, Random(seed)
        self.state = State(net)
        self.inserter = Inserter(net, self.state)
        for path in net.paths:
            self.inserter.put(path, begin)
        self.stander = Stander(self.inserter, told)
        self.can_stand = {p.unit for p in net.paths if whole(p, told)}
        self.tally = Tally(net, self.state, price)
        self.energy = self.tally.energy()
        self.best, self.best_energy = begin, self.energy
        self.moves = 0

    def run(self, go_on: Callable[[int], float]) -> Placed:
        """Anneal for as long as ``go_on`` says, which takes the number of moves and returns the share of the run that is over."""
        while (over := go_on(self.moves)) < 1.0:
            self.moves += 1
            self._step(HOT * (COLD / HOT) ** over)
        return self.best

    def _step(self, temperature: float) -> None:
        removed, stand_first = self._choose()
        if not removed:
            return
        self.state.settle()
        saved, known = self.state.save(), self._known(removed)
        self.tally.taken_out(removed)
        for path in removed:
            self.inserter.remove(path)
        fits = self._put_back(removed, stand_first)
        if fits:
            self.tally.put_in(removed)
            energy = self.tally.energy()
            if energy <= self.energy - temperature * math.log(1 - self.random.random()):
                self.energy = energy
                if energy < self.best_energy - 1e-9:
                    self.best, self.best_energy = self.state.placed(), energy
                return
            self.tally.taken_out(removed)
        self.state.restore(saved)
        self._restore(removed, known)

    def _known(self, removed: Iterable[Path]) -> list[tuple[float, int, int]]:
        tally = self.tally
        return [(tally.cost[p.unit], tally.end[p.unit], tally.late.get(p.order, 0)) for p in removed]

    def _restore(self, removed: Iterable[Path], known: Iterable[tuple[float, int, int]]) -> None:
        self.tally.put_in(removed)
        for path, (cost, end, late) in zip(removed, known, strict=True):
            self.tally.cost[path.unit], self.tally.end[path.unit] = cost, end
            if path.order in self.tally.late:
                self.tally.late[path.order] = late

    def _put_back(self, removed: list[Path], stand_first: bool) -> bool:
        """Put the first unit in, then the others: back where they were told, or as early as they go."""
        lead, *mates = removed
        if not self._place(lead, stand=stand_first):
            return False
        return all(self._place(mate, stand=self.random.random() < 0.5) for mate in mates)

    def _place(self, path: Path, *, stand: bool) -> bool:
        if stand and path.unit in self.can_stand and self.stander.stand(path) is None:
            return True
        return self.inserter.insert(path)

    def _choose(self) -> tuple[list[Path], bool]:
        moved = [p for p in self.net.paths if self.tally.cost[p.unit] > 0 and p.unit in self.can_stand]
        back = bool(moved) and self.random.random() < BACK
        if back:
            lead = self.random.choice(moved)
        else:
            late = [p for p in self.net.paths if self.tally.late.get(p.order, 0) > 0] if self.random.random() < LATE else []
            lead = self.random.choice(late or self.net.paths)
        middle = self._middle(lead, told=back)
        others = [(abs(self._middle(p, told=False) - middle), n) for n, p in enumerate(self.net.paths) if p is not lead]
        near = [self.net.paths[n] for _, n in sorted(others)[:MATES]]
        count = self.random.choice((0, 1, 1, 2, 3)) if back else self.random.choice((1, 1, 2, 3))
        return [lead, *self.random.sample(near, min(count, len(near)))], back

    def _middle(self, path: Path, *, told: bool) -> float:
        start = self.stander.told.start if told else self.state.start
        noise = self.random.random() * 2 * self.tally.slots_a_day
        return (start[path.first] + start[path.last]) / 2 - noise
