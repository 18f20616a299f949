"""When could a customer have units back if others may move, each order by itself no later than it was promised."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from random import Random
from typing import Final

from scheduler.activities.network import Due, Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.extend import UnitPart, with_parts
from scheduler.replan.quote import Answer, answer_of
from scheduler.search.insertion import Inserter
from scheduler.search.routes import Routes
from scheduler.search.state import State

HOT: Final = 24.0
COLD: Final = 1.0
"""Temperatures in slots of the last hand-over."""


def with_moves(
    net: Network, placed: Placed, parts: Sequence[UnitPart], begin: Answer | None, go_on: Callable[[int], float], seed: int = 1
) -> Answer | None:
    """Earliest last hand-over if others may move, each order by itself no later than it was promised.

    Parameters
    ----------
    net : Network
        Of the shop; the pools of the parts are its own.
    placed : Placed
        Of that network: what was promised, unless the due date is later.
    parts : sequence of UnitPart
    begin : Answer or None
        Where the units stand with nothing moved.
    go_on : callable
        Takes the moves made, returns the share of the run that is over.
    """
    return _Mover(net, placed, parts, begin, seed).run(go_on)


class _Mover:
    def __init__(self, net: Network, placed: Placed, parts: Sequence[UnitPart], begin: Answer | None, seed: int) -> None:
        self.net, self.random = with_parts(net, parts), Random(seed)
        routes = Routes(self.net)
        self.state = State(self.net, routes)
        self.inserter = Inserter(self.net, self.state, routes=routes)
        self.others, self.asked = self.net.paths[: len(net.paths)], self.net.paths[len(net.paths) :]
        for path in self.others:
            self.inserter.put(path, placed)
        self.due_of = {due.order: due for due in net.dues}
        self.promised = {due.order: self._days(due) for due in net.dues}
        self.begun = all(self.inserter.insert(path) for path in self.asked) if begin is None else self._put(begin)
        self.slots_a_day = max(1.0, net.slots / (net.day[-1] + 1))
        self.moves = 0

    def _put(self, begin: Answer) -> bool:
        """Take over where the units stand with nothing moved."""
        before = {path.unit: path for path in begin.net.paths}
        start, bays = list(self.state.start), list(self.state.bay_class)
        crew, draws = list(self.state.crew), list(self.state.draws)
        for path in self.asked:
            old = before[path.unit]
            for i, j in zip(range(path.first, path.last + 1), range(old.first, old.last + 1), strict=True):
                start[i], crew[i], draws[i] = begin.placed.start[j], begin.placed.crew[j], begin.placed.draws[j]
            for k, n in zip(path.stays, old.stays, strict=True):
                bays[k] = begin.placed.bay_class[n]
        placed = Placed(tuple(start), tuple(bays), tuple(crew), tuple(draws))
        for path in self.asked:
            self.inserter.put(path, placed)
        return True

    def run(self, go_on: Callable[[int], float]) -> Answer | None:
        if not self.begun:
            return None
        energy, best = self._energy(), answer_of(self.inserter, self.asked, 0)
        best_energy = energy
        self.inserter.random = self.random
        while (over := go_on(self.moves)) < 1.0:
            self.moves += 1
            temperature = HOT * (COLD / HOT) ** over
            self.state.settle()
            mark, removed = self.state.save(), self._choose()
            for path in removed:
                self.inserter.remove(path)
            fits = all(self.inserter.insert(path) for path in removed) and self._kept(removed)
            new = self._energy() if fits else math.inf
            if new > energy - temperature * math.log(1 - self.random.random()):
                self.state.restore(mark)
                continue
            energy = new
            if new < best_energy:
                best, best_energy = answer_of(self.inserter, self.asked, self.moves), new
        return replace(best, moves=self.moves)

    def _days(self, due: Due) -> tuple[int, ...]:
        """Days late of an order's units; the worst alone counts where they go together."""
        days = [due.late[self.state.start[i] + self.net.activities[i].slots] for i in due.members]
        return (max(days, default=0),) if due.together else tuple(days)

    def _kept(self, removed: Sequence[Path]) -> bool:
        """Whether no order is later than promised."""
        orders = {path.order for path in removed} & set(self.promised)
        return all(
            now <= then
            for order in orders
            for now, then in zip(self._days(self.due_of[order]), self.promised[order], strict=True)
        )

    def _end(self, path: Path) -> int:
        return self.state.start[path.last] + self.net.activities[path.last].slots

    def _energy(self) -> float:
        """Last hand-over of the new units, with a gentle slope for the others of them."""
        ends = [self._end(path) for path in self.asked]
        return max(ends) + 0.1 * sum(ends) / len(ends)

    def _choose(self) -> list[Path]:
        """Choose the last of the new units, mostly, and others that are in at the time when it could be."""
        last = max(self.asked, key=self._end) if self.random.random() < 0.7 else self.random.choice(self.asked)
        middle = self._end(last) - self.random.random() * 8 * self.slots_a_day
        others = [p for p in (*self.others, *self.asked) if p is not last and not p.since_start]
        others.sort(key=lambda p: abs((self.state.start[p.first] + self._end(p)) / 2 - middle))
        near = others[:10]
        return [last, *self.random.sample(near, min(self.random.choice((1, 2, 2, 3)), len(near)))]
