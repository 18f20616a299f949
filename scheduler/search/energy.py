"""One number to anneal on, kept up to date from what a move has changed."""

import math
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from scheduler.activities.network import Due, Network, Path
from scheduler.material.entries import PPM
from scheduler.search.state import UNPLACED, State
from scheduler.search.value import GOALS, spent

DAY, OVERTIME = 0.02, 0.004
"""What a unit's day on the site and a slot of overtime are worth in weighted days late: a slope, as lateness leads."""
LATE_AGAIN, OVERTIME_BESIDE = 20.0, 0.08
"""What a weighted day late and a slot of overtime are worth in packs, once lateness is as good as it can be."""
AHEAD, UNEVEN = 25.0, 0.1
"""How much more a goal weighs for each goal that it goes before and usually follows; a slot of uneven load in packs then."""
SHARES = (1.0, 0.05, 0.02, 0.01, 0.005)
"""Weights of the goals in another order than the usual one; the goals after the first show the way."""
SLACK, PACKS_SAVED = 0.5, 2.0
"""By how much other goals and packs may be better than before a move that is given up early."""
UL_A_PACK = 1_000_000
"""A missing litre weighs as much as a pack: nothing in a schedule that can be carried out."""


@dataclass(slots=True)
class Parts:
    """The goals as numbers that can be added to: lateness by order, ends by unit."""

    late: dict[int, int] = field(default_factory=dict)
    end: dict[int, int] = field(default_factory=dict)
    lateness: int = 0
    ends: int = 0
    packs: float = 0.0


class Energy:
    """Energy of a whole solution.

    Parameters
    ----------
    net : Network
    state : State
    goals : sequence of str
        All goals in the order in which they count.
    """

    def __init__(self, net: Network, state: State, goals: Sequence[str]) -> None:
        self.net, self.state, self.goals = net, state, goals
        self.late_enough: int | None = None
        self.slots_a_day = max(1.0, net.slots / (net.day[-1] + 1)) if net.day else 1.0
        self.number = {path.unit: n for n, path in enumerate(net.paths)}
        order_at = {due.order: d for d, due in enumerate(net.dues)}
        self.due_of = [order_at.get(path.order, -1) for path in net.paths]
        self.ahead = {name: AHEAD ** _passed(name, self.goals) for name in self.goals}
        self.most_ahead = max(self.ahead.values())
        self.now, self._next = Parts(), Parts()

    @property
    def counts_packs(self) -> bool:
        """Whether packs are part of the energy; the ledger takes longer than a move, so it is kept only where they lead."""
        return self.late_enough is not None or self.goals[0] != "lateness"

    def begin(self) -> float:
        """Work everything out from the state as it stands, with every unit in."""
        self.now = Parts()
        value = self.after(self.net.paths)
        self.accept()
        return value

    def value(self) -> float:
        """Energy of the present solution."""
        self.now.packs = self._packs()
        return self._sum(self.now)

    def after(self, changed: Iterable[Path], threshold: float = math.inf) -> float:
        """Energy after units have been moved; :meth:`accept` makes it the present one.

        Above ``threshold`` it may be less than exact.
        """
        now, state = self.now, self.state
        found = Parts(lateness=now.lateness, ends=now.ends, packs=now.packs)
        for path in changed:
            n = self.number[path.unit]
            end = found.end[n] = state.start[path.last]
            found.ends += end - now.end.get(n, 0)
            if self.due_of[n] >= 0:
                found.late[self.due_of[n]] = 0
        for d in found.late:
            found.late[d] = self.lateness_of(self.net.dues[d])
            found.lateness += found.late[d] - now.late.get(d, 0)
        self._next, energy = found, self._sum(found)
        if not self.counts_packs or energy - PACKS_SAVED > threshold:
            return energy
        found.packs = self._packs()
        return self._sum(found)

    def _packs(self) -> float:
        if not self.counts_packs:
            return 0.0
        missing_ul, spent_ppm = spent(self.net, self.state.start)
        return missing_ul / UL_A_PACK + spent_ppm / PPM

    def lateness_of(self, due: Due) -> int:
        """Weighted days late of an order, as far as its units are in."""
        start, activities = self.state.start, self.net.activities
        days = [due.late[start[i] + activities[i].slots] for i in due.members if start[i] != UNPLACED]
        days += due.settled
        return due.weight * (max(days) if due.together else sum(days)) if days else 0

    def _sum(self, parts: Parts) -> float:
        late, packs, ends, overtime = parts.lateness, parts.packs, parts.ends / self.slots_a_day, self.state.overtime[0]
        if self.goals[0] != "lateness":
            table = {"lateness": late, "material": packs, "cost": overtime, "finish": ends, "even_load": self._uneven()}
            return sum(share * table[name] for share, name in zip(SHARES, self.goals, strict=True))
        if self.late_enough is None:
            return late + DAY * ends + OVERTIME * overtime
        return LATE_AGAIN * self.most_ahead * (late - self.late_enough) + self._after_lateness(packs, overtime, ends)

    def _after_lateness(self, packs: float, overtime: int, ends: float) -> float:
        ahead = self.ahead
        uneven = UNEVEN * self._uneven() if ahead["even_load"] > 1 else 0.0
        return ahead["material"] * packs + OVERTIME_BESIDE * ahead["cost"] * overtime + DAY * ahead["finish"] * ends + uneven

    def _uneven(self) -> int:
        loads = [load for load, worker in zip(self.state.work, self.net.workers, strict=True) if worker.is_person]
        return max(loads) - min(loads) if loads else 0

    def accept(self) -> None:
        """Make the energy that was asked for last the present one."""
        now, found = self.now, self._next
        now.late.update(found.late)
        now.end.update(found.end)
        now.lateness, now.packs, now.ends = found.lateness, found.packs, found.ends

    def most_lateness(self, energy: float, threshold: float) -> float:
        """Lateness above which a move cannot stay below a threshold, when the other goals get hardly better."""
        if self.goals[0] != "lateness":
            return math.inf
        if self.late_enough is None:
            return threshold - (energy - self.now.lateness) + SLACK
        a_day = LATE_AGAIN * self.most_ahead
        others = energy - a_day * (self.now.lateness - self.late_enough)
        return self.late_enough + (threshold - others) / a_day + SLACK

    def latest_end(self, path: Path, most: float, out: Iterable[Path]) -> int:
        """Slot by which a unit has to end for the lateness to stay below ``most``.

        Parameters
        ----------
        path : Path
        most : float
            Largest lateness of all orders.
        out : iterable of Path
            Units of the move; those that are not in are taken to be in time.
        """
        mine = self.due_of[self.number[path.unit]]
        if mine < 0 or most == math.inf:
            return self.net.slots
        left = most - self.now.lateness
        touched = {self.due_of[self.number[p.unit]] for p in out}
        for d in touched - {-1}:
            left += self.now.late[d] - (self.lateness_of(self.net.dues[d]) if d != mine else 0)
        due = self.net.dues[mine]
        before = self.lateness_of(due)
        if before > left:
            return -1
        days = (left - (0 if due.together else before)) // due.weight if due.weight else math.inf
        return bisect_right(due.late, days) - 1


def _passed(name: str, goals: Sequence[str]) -> int:
    """How many goals a goal goes before that it usually follows."""
    usual = list(GOALS)
    return sum(usual.index(other) < usual.index(name) for other in goals[list(goals).index(name) + 1 :])
