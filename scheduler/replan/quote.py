"""When could a customer have units back: in what is free, and with moves that make no order later than promised."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from scheduler.activities.network import Due, Network, Path, Pool
from scheduler.activities.placed import Placed
from scheduler.replan.extend import UnitPart, with_parts
from scheduler.replan.room import Room
from scheduler.search.insertion import Inserter
from scheduler.search.routes import Routes
from scheduler.search.state import State

PUT_IN = 90_000
"""Units that are put into what is free, later tries included, times slots of the axis: longer plans take longer for each."""
LEAST_PUT_IN, MOST_PUT_IN = 40, 300
MAY_WAIT, ANY_BAY = 0.6, 0.2
"""Shares of the units that wait, and of the tries in which bays are drawn."""
HOT, COLD = 24.0, 1.0
"""Temperatures in slots of the last hand-over."""


@dataclass(frozen=True)
class Answer:
    """Where units that were asked for would stand.

    Attributes
    ----------
    net : Network
        With the new units in it.
    placed : Placed
        Of that network.
    units : tuple of str
        New units.
    ends : tuple of int
        Slot before which each of them is handed back.
    moves : int
        Moves or tries that were made.
    """

    net: Network
    placed: Placed
    units: tuple[str, ...]
    ends: tuple[int, ...]
    moves: int

    @property
    def last(self) -> int:
        """Slot before which all are handed back."""
        return max(self.ends)


def with_spare(net: Network, order: str, spare: int | None) -> tuple[Network, tuple[int, ...]]:
    """Add a pool for the units that a customer can spare; the network, and the pools in which its units count."""
    yard = next(n for n, pool in enumerate(net.pools) if pool.key == "yard")
    if spare is None:
        return net, (yard,)
    return replace(net, pools=(*net.pools, Pool(f"away {order}", "units_away", spare))), (yard, len(net.pools))


def into_free(room: Room, parts: Sequence[UnitPart], seed: int = 1, effort: int = 1) -> Answer | None:
    """Earliest last hand-over that is found with nothing moved; None where the units do not fit.

    Units of different kinds go in in different orders first, each as early as it goes. Then some of them wait a little at one of
    their steps, because who takes the first hour that is free may stand in the way of the next unit for days.

    Parameters
    ----------
    room : Room
    parts : sequence of UnitPart
    seed : int
    effort : int
        How many times the usual number of units are put in.
    """
    if len(parts) == 1:
        return _Fitter(room, parts, seed).run(1)
    most = min(max(PUT_IN // room.net.slots, LEAST_PUT_IN), MOST_PUT_IN)
    return _Fitter(room, parts, seed).run(most * effort)


class _Fitter:
    def __init__(self, room: Room, parts: Sequence[UnitPart], seed: int) -> None:
        self.random, self.inserter = Random(seed), room.inserter(parts)
        self.paths = list(self.inserter.net.paths)
        self.orders = len({tuple((a.name, a.slots) for a in part.activities) for part in parts})
        self.put_in = 0

    def run(self, most: int) -> Answer | None:
        """Put all units in again and again, until so many were put in."""
        state, best, tries = self.inserter.state, None, 0
        while tries < self.orders or self.put_in < most:
            mark, tries = state.save(), tries + 1
            if self._fit(best, waits=tries > self.orders):
                found = _answer(self.inserter, self.inserter.net.paths, tries)
                if best is None or (found.last, sum(found.ends)) < (best.last, sum(best.ends)):
                    best = found
            state.restore(mark)
            self.random.shuffle(self.paths)
        return best

    def _fit(self, best: Answer | None, *, waits: bool) -> bool:
        """Put all units in, to end no later than in the best answer; sooner, where some of them wait."""
        by = None if best is None else best.last - waits
        self.inserter.random = self.random if waits and self.random.random() < ANY_BAY else None
        for path in self.paths:
            self.put_in += 1
            if not self.inserter.insert(path, by):
                return False
            if waits and path is not self.paths[-1] and self.random.random() < MAY_WAIT:
                self._let_wait(path, by)
        return True

    def _let_wait(self, path: Path, by: int | None) -> None:
        """Put a unit in again that waits at one of its steps, mostly a little, up to a day; it stays if it cannot."""
        net, state = self.inserter.net, self.inserter.state
        step = self.random.randrange(path.late_pickup, path.last - path.first + 1)
        slot = state.start[path.first + step] + 1 + int(self.random.random() ** 3 * net.slots / (net.day[-1] + 1))
        mark = state.save()
        self.inserter.remove(path)
        self.put_in += 1
        if not self.inserter.insert(path, by, not_before=(step, slot)):
            state.restore(mark)


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
        energy, best = self._energy(), _answer(self.inserter, self.asked, 0)
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
                best, best_energy = _answer(self.inserter, self.asked, self.moves), new
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


def _answer(inserter: Inserter, paths: Sequence[Path], moves: int) -> Answer:
    state, net = inserter.state, inserter.net
    ends = tuple(state.start[path.last] + net.activities[path.last].slots for path in paths)
    return Answer(net, state.placed(), tuple(path.unit for path in paths), ends, moves)
