"""Improve a solution: take a few units out, put them back in another order, keep what is better (simulated annealing)."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.search.energy import Energy
from scheduler.search.first import orders
from scheduler.search.insertion import Inserter
from scheduler.search.moves import Moves
from scheduler.search.state import State
from scheduler.search.steps import Routes
from scheduler.search.value import Value, goal_order, ranked, value_of

HOT, COLD = 0.7, 0.05
CYCLES = ((0.0, 0.08), (0.08, 0.3), (0.3, 1.0))
"""Shares of a run in which it cools down once. Temperatures were found by trial, not derived."""


@dataclass(frozen=True, slots=True)
class Better:
    """A better solution and its value."""

    placed: Placed
    value: Value


class Improver:
    """Simulated annealing over whole units.

    Parameters
    ----------
    net : Network
    seed : int
        The same seed gives the same run of moves.
    goals : tuple of str
        Goals in the order in which they count; the usual order if not given.
    """

    def __init__(self, net: Network, seed: int, goals: tuple[str, ...] = ()) -> None:
        self.net = net
        self.goals = goal_order(goals)
        self.random = Random(seed)
        routes = Routes(net)
        self.state = State(net, routes)
        self.inserter = Inserter(net, self.state, routes=routes)
        self.energy = Energy(net, self.state, self.goals)
        self.choice = Moves(net, self.state, self.energy, self.random)
        self.best: Better | None = None
        self.moves = 0
        self._cycle = 0
        self._energy = self._noted = math.inf

    @property
    def late_enough(self) -> int | None:
        """Lateness that is taken as good enough."""
        return self.energy.late_enough

    def first(self) -> Better | None:
        """Insert all units by due date; other orders of insertion if one does not fit."""
        for paths in orders(self.net, self.random):
            if self._fill(paths):
                return self._note()
        return None

    def _fill(self, paths: list[Path]) -> bool:
        for path in self.net.paths:
            self.inserter.remove(path)
        filled = all(self.inserter.insert(path) for path in paths)
        self.state.settle()
        return filled

    def _note(self) -> Better:
        placed = self.state.placed()
        found = Better(placed, value_of(self.net, placed))
        if self.best is None or ranked(found.value, self.goals) < ranked(self.best.value, self.goals):
            self.best = found
        return self.best

    def run(
        self,
        go_on: Callable[[int], float],
        on_better: Callable[[Better], None],
        done: Callable[[], bool] = lambda: False,
    ) -> None:
        """Anneal for as long as ``go_on`` says.

        Parameters
        ----------
        go_on : callable
            Takes the number of moves made, returns how much of the run is over, in 0..1; 1 or more ends it.
        on_better : callable
            Told of every better solution.
        done : callable
            Whether nothing is left to gain.
        """
        self._energy, self.inserter.random = self.energy.begin(), self.random
        while self.net.paths and (over := go_on(self.moves)) < 1.0 and not done():
            self.moves += 1
            threshold = self._energy - self._temperature(over) * math.log(1 - self.random.random())
            changed = self._move(threshold)
            if changed and (new := self.energy.after(changed, threshold)) <= threshold:
                self._energy = new
                self.energy.accept()
                self._keep(on_better)
            else:
                self.state.restore(0)
            self.state.settle()

    def _temperature(self, over: float) -> float:
        """Cool down three times, each time for longer, from the best solution so far."""
        cycle = sum(over >= begin for begin, _ in CYCLES) - 1
        begin, end = CYCLES[cycle]
        if cycle != self._cycle:
            self._cycle = cycle
            if cycle > 0 and self.best is not None:
                self.adopt(self.best)
        return float(HOT * (COLD / HOT) ** min(1.0, (over - begin) / (end - begin)))

    def adopt(self, better: Better) -> None:
        """Go on from a solution that was found elsewhere."""
        for path in self.net.paths:
            self.inserter.remove(path)
        for path in self.net.paths:
            self.inserter.put(path, better.placed)
        self.state.settle()
        self.best, self._energy = better, self.energy.begin()

    def _keep(self, on_better: Callable[[Better], None]) -> None:
        """Take note of a solution if it may be the best one so far."""
        best, late = self.best, self.energy.now.lateness
        if best is not None and self.goals[0] == "lateness" and late > best.value.lateness:
            return
        if best is not None and self._energy >= self._noted and (self.goals[0] != "lateness" or late == best.value.lateness):
            return
        self._noted = self._energy
        found = self._note()
        if found is not best:
            on_better(found)

    def aim_past_lateness(self, reached: int) -> None:
        """Take a lateness as good enough and go for the goals after it."""
        if self.energy.late_enough != reached:
            self.energy.late_enough, self._noted = reached, math.inf
            self._energy = self.energy.value()

    def _move(self, threshold: float) -> list[Path]:
        """Take units out and put them back; none if that does not go or cannot stay below the threshold."""
        removed, most = self.choice.choose(), self.energy.most_lateness(self._energy, threshold)
        for path in removed:
            self.inserter.remove(path)
        for path in removed:
            if not self.inserter.insert(path, self.energy.latest_end(path, most, removed)):
                return []
        return removed
