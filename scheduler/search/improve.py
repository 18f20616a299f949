"""Improve a solution: take a few units out, put them back in another order, keep what is better (simulated annealing)."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import islice
from random import Random

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.cooling import cycle_at, temperature_at
from scheduler.search.energy import Energy
from scheduler.search.first import orders, starts
from scheduler.search.insertion import Inserter
from scheduler.search.put_back import Mover
from scheduler.search.routes import Routes
from scheduler.search.state import State
from scheduler.search.value import Value, goal_order, ranked, value_of

STARTS = 0.1
"""Share of a run in which other orders of insertion are tried."""
FILMS_A_MOVE = 8
"""The goals of a solution are worked out after so many moves as it has films, over this: a tenth of the time or so."""


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
    routes : Routes or None
        Of the network, if they are there already.
    """

    def __init__(self, net: Network, seed: int, goals: tuple[str, ...] = (), routes: Routes | None = None) -> None:
        self.net = net
        self.goals = goal_order(goals)
        self.random = Random(seed)
        routes = routes or Routes(net)
        self.state = State(net, routes)
        self.inserter = Inserter(net, self.state, routes=routes)
        self.energy = Energy(net, self.state, self.goals)
        self.mover = Mover(self.inserter, self.energy, self.random)
        self.best: Better | None = None
        self.moves = 0
        self._cycle = 0
        self._energy = math.inf
        self._kept: Placed | None = None
        self._kept_rank = (0.0, math.inf)
        self._look_at = 0
        self._patience = sum(1 for a in net.activities if a.product) // FILMS_A_MOVE

    @property
    def late_enough(self) -> int | None:
        """Lateness that is taken as good enough."""
        return self.energy.late_enough

    def first(self, tries: int | None = None) -> Better | None:
        """Insert all units by due date; other orders of insertion if one does not fit, all of them or so many."""
        for paths in islice(orders(self.net, self.random), tries):
            if self.inserter.fill(paths):
                return self._note()
        return None

    def _note(self) -> Better:
        placed = self.state.placed()
        self.best = Better(placed, value_of(self.net, placed))
        return self.best

    def run(
        self,
        go_on: Callable[[int], float],
        on_better: Callable[[Better], None],
        done: Callable[[], bool] = lambda: False,
        *,
        afresh: bool = True,
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
        afresh : bool
            Whether other orders of insertion are tried first; where there is a good solution to begin with they are time lost.
        """
        self._energy, self._kept_rank = self.energy.begin(), self._rank()
        if afresh:
            self._start_well(go_on, on_better)
        self.inserter.random = self.random
        while self.net.paths and (over := go_on(self.moves)) < 1.0 and not done():
            self.moves += 1
            temperature = self._temperature(over, on_better)
            threshold = self._energy - temperature * math.log(1 - self.random.random())
            changed = self.mover.move(self._energy, threshold)
            if changed and (new := self.energy.after(changed, threshold)) <= threshold:
                self._energy = new
                self.energy.accept()
                self._keep()
            else:
                self.state.restore(0)
            self.state.settle()
            if self._kept is not None and self.moves >= self._look_at:
                self._weigh(on_better)
        self._weigh(on_better)

    def _start_well(self, go_on: Callable[[int], float], on_better: Callable[[Better], None]) -> None:
        """Begin from the best of several orders of insertion, as far as a tenth of the run suffices to try them."""
        best = self.state.placed()
        if self.goals[0] != "lateness" or self.energy.now.lateness <= (self.late_enough or 0):
            return
        for paths in starts(self.net):
            if go_on(self.moves) >= STARTS:
                break
            if self.inserter.fill(paths):
                self._energy = self.energy.begin()
                self._keep()
        self._weigh(on_better)
        self._put_all(best if self.best is None else self.best.placed)

    def _temperature(self, over: float, on_better: Callable[[Better], None]) -> float:
        """Cool down three times, each time for longer, from the best solution so far."""
        cycle = cycle_at(over)
        if cycle != self._cycle:
            self._cycle = cycle
            self._weigh(on_better)
            if cycle > 0 and self.best is not None:
                self.adopt(self.best)
        return temperature_at(over, settled=self.late_enough is not None or self.goals[0] != "lateness")

    def adopt(self, better: Better) -> None:
        """Go on from a solution that was found elsewhere."""
        self.best, self._kept = better, None
        self._put_all(better.placed)

    def _put_all(self, placed: Placed) -> None:
        self.inserter.put_all(placed)
        self._energy = self.energy.begin()
        self._kept_rank = self._rank()

    def _keep(self) -> None:
        """Keep a solution that may be the best one so far; to work out its goals takes longer than a move and waits a little."""
        rank = self._rank()
        if rank < self._kept_rank:
            self._kept, self._kept_rank = self.state.placed(), rank

    def _rank(self) -> tuple[float, float]:
        return (self.energy.now.lateness if self.goals[0] == "lateness" else 0, self._energy)

    def _weigh(self, on_better: Callable[[Better], None]) -> None:
        """Work out the goals of the solution that was kept."""
        if self._kept is None:
            return
        placed, self._kept, self._look_at = self._kept, None, self.moves + self._patience
        found = Better(placed, value_of(self.net, placed))
        if self.best is None or ranked(found.value, self.goals) < ranked(self.best.value, self.goals):
            self.best = found
            on_better(found)

    def aim_past_lateness(self, reached: int) -> None:
        """Take a lateness as good enough and go for the goals after it."""
        if self.energy.late_enough != reached:
            self.energy.late_enough = reached
            self._energy = self.energy.value()
            self._kept_rank = (reached, self._energy)
