"""Improve a solution: take a few units out, put them back in another order, keep what is better (simulated annealing)."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.material.ledger import PPM
from scheduler.search.insertion import Inserter
from scheduler.search.state import State
from scheduler.search.steps import Routes
from scheduler.search.value import Value, goal_order, lateness, ranked, spent, value_of

LATE_UNIT = 0.7
HOT, COLD = 0.7, 0.05
CYCLES = ((0.0, 0.08), (0.08, 0.3), (0.3, 1.0))
"""Shares of a run in which it cools down once. Temperatures and the weights of the energy were found by trial, not derived."""
SAME_DAYS = 0.6
UL_A_PACK = 1_000_000
"""A missing litre weighs as much as a pack: nothing in a schedule that can be carried out."""
SHARES = (1.0, 0.05, 0.02, 0.01, 0.005)
"""Weights of the goals in another order than the usual one; the goals after the first show the way."""


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
        self.best: Better | None = None
        self.due_of = {due.order: due for due in net.dues}
        self.moves = 0
        self._cycle = 0
        self.late_enough: int | None = None
        self._energy = math.inf
        self.slots_a_day = max(1.0, net.slots / (net.day[-1] + 1)) if net.day else 1.0

    def first(self) -> Better | None:
        """Insert all units by due date; other orders of insertion if one does not fit."""
        for key in (self._due, self._work, lambda path: (self._due(path), self.random.random())):
            if self._fill(sorted(self.net.paths, key=key)):
                return self._note()
        for _ in range(20):
            paths = sorted(self.net.paths, key=lambda path: (not path.since_start, self.random.random()))
            if self._fill(paths):
                return self._note()
        return None

    def _due(self, path: Path) -> tuple[float, ...]:
        due = self.due_of.get(path.order)
        late_from = next((e for e, days in enumerate(due.late) if days > 0), self.net.slots) if due else self.net.slots
        return (not path.since_start, late_from, -(due.weight if due else 0), path.first)

    def _work(self, path: Path) -> tuple[float, ...]:
        slots = sum(a.slots for a in self.net.activities[path.first : path.last + 1])
        return (not path.since_start, -slots, path.first)

    def _fill(self, paths: list[Path]) -> bool:
        for path in self.net.paths:
            self.inserter.remove(path)
        return all(self.inserter.insert(path) for path in paths)

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
        self._energy, self.inserter.random = self.energy(), self.random
        while self.net.paths and (over := go_on(self.moves)) < 1.0 and not done():
            self.moves += 1
            temperature = self._temperature(over)
            self.state.settle()
            saved = self.state.save()
            threshold = self._energy - temperature * math.log(1 - self.random.random())
            if self._move() and (new := self.energy()) <= threshold:
                self._energy = new
                self._keep(on_better)
            else:
                self.state.restore(saved)

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
        self.best, self._energy = better, self.energy()

    def _keep(self, on_better: Callable[[Better], None]) -> None:
        best = self.best
        first_is_lateness = self.goals[0] == "lateness"
        if best is not None and first_is_lateness and lateness(self.net, self.state.start) > best.value.lateness:
            return
        found = self._note()
        if found is not best:
            on_better(found)

    def energy(self) -> float:
        """One number to anneal on: lateness first, the rest as a gentle slope that shows the way.

        Once the lateness cannot be beaten any more, packs lead and the slope is steeper.
        """
        ends = sum(self.state.start[p.last] for p in self.net.paths) / self.slots_a_day
        missing_ul, spent_ppm = spent(self.net, self.state.start)
        packs = missing_ul / UL_A_PACK + spent_ppm / PPM
        late, overtime = lateness(self.net, self.state.start), self.state.overtime[0]
        if self.goals[0] != "lateness":
            parts = {"lateness": late, "material": packs, "cost": overtime, "finish": ends, "even_load": self._uneven()}
            return sum(share * parts[name] for share, name in zip(SHARES, self.goals, strict=True))
        if self.late_enough is None:
            return late + 0.05 * packs + 0.02 * ends + 0.004 * overtime
        return 20 * max(0, late - self.late_enough) + packs + 0.02 * overtime + 0.02 * ends

    def _uneven(self) -> int:
        loads = [load for load, worker in zip(self.state.work, self.net.workers, strict=True) if worker.is_person]
        return max(loads) - min(loads) if loads else 0

    def aim_past_lateness(self, reached: int) -> None:
        """Take a lateness as good enough and go for the goals after it."""
        if self.late_enough != reached:
            self.late_enough, self._energy = reached, math.inf

    def _move(self) -> bool:
        removed = self._choose()
        for path in removed:
            self.inserter.remove(path)
        if self.random.random() < 0.3:
            self.random.shuffle(removed)
        return all(self.inserter.insert(path) for path in removed)

    def _choose(self) -> list[Path]:
        paths = self.net.paths
        late = self._late_units() if self.random.random() < LATE_UNIT else []
        lead = self.random.choice(late) if late else self.random.choice(paths)
        count = self.random.choice((1, 2, 2, 3))
        others = [p for p in paths if p is not lead]
        if self.random.random() < SAME_DAYS:
            middle = self._middle(lead) - self.random.random() * 3 * self.slots_a_day
            others.sort(key=lambda p: abs(self._middle(p) - middle))
            others = others[:8]
        mates = self.random.sample(others, min(count, len(others)))
        return [lead, *mates]

    def _middle(self, path: Path) -> float:
        return (self.state.start[path.first] + self.state.start[path.last]) / 2

    def _late_units(self) -> list[Path]:
        found = []
        for due in self.net.dues:
            ends = [(self.state.start[i] + self.net.activities[i].slots, i) for i in due.members]
            late = [i for end, i in ends if due.late[end] > 0]
            found += late if not due.together or len(late) < 2 else [max(ends)[1]]
        return [p for p in self.net.paths if p.last in set(found)]
