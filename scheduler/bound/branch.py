"""Whole days late: an order is late by at most so many days or by more, and the bound is the lower one of the two cases."""

import heapq
import itertools
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from scheduler.bound.columns import ANYTHING, Limits
from scheduler.bound.master import Floats, Solved
from scheduler.bound.relaxation import SCALE
from scheduler.bound.tighten import Tightener

ROUNDS_A_CASE = 20
"""Times that a case is solved and priced, and looked through for crowded hours, before it is cut in two."""
NEARLY = 0.02
"""Weighted days that may be left to gain by new ways when crowded hours are looked for."""
SPREAD = 0.05
"""Share of a unit's ways that is late by other days than the rest, from which on an order is worth a cut."""


@dataclass(order=True)
class Case:
    """What is assumed, and the bound that holds then; ``cut`` are the two cases that it falls into, if any."""

    value: int
    number: int
    limits: Limits = field(compare=False)
    price: Floats = field(compare=False)
    share: Floats = field(compare=False)


class Brancher:
    """Cuts the case with the lowest bound in two, again and again.

    Parameters
    ----------
    tightener : Tightener
        Done or as far as it got; its ways and rows are shared by all cases, which add to them.
    """

    def __init__(self, tightener: Tightener) -> None:
        self.tightener, self.relaxation, self.master = tightener, tightener.relaxation, tightener.master
        self.count = itertools.count()
        price, share = tightener.prices()
        self.open = [Case(tightener.best, next(self.count), ANYTHING, price, share)]
        self.settled: int | None = None
        """Lowest bound of the cases that cannot be cut."""

    @property
    def value(self) -> int:
        """Bound over all cases, in parts of ``SCALE``."""
        values = [self.open[0].value] if self.open else []
        return min([*values, *([] if self.settled is None else [self.settled])], default=self.tightener.best)

    @property
    def done(self) -> bool:
        """Whether cutting cannot raise the bound any more."""
        return not self.open or (self.settled is not None and self.settled <= self.open[0].value)

    def step(self) -> None:
        """Solve the lowest case to its end and put the cases that it falls into in its place."""
        case = heapq.heappop(self.open)
        case, solved = self._solved(case)
        if solved is None:
            return
        if self.open and case.value > self.open[0].value:
            heapq.heappush(self.open, case)
            return
        halves = self._cut(case, solved)
        if not halves:
            self.settled = case.value if self.settled is None else min(self.settled, case.value)
        for limits in halves:
            heapq.heappush(self.open, Case(case.value, next(self.count), limits, case.price, case.share))

    def _solved(self, case: Case) -> tuple[Case, Solved | None]:
        """Raise the bound of a case; no solution if nothing can be so."""
        solved = None
        for _ in range(ROUNDS_A_CASE):
            case = replace(case, price=np.pad(case.price, (0, len(self.relaxation.rows) - len(case.price))))
            solved = self.master.solve(case.limits)
            new = 0
            for weight in (0.5, 0.0):
                price = weight * case.price + (1 - weight) * solved.price
                share = weight * case.share + (1 - weight) * solved.share
                valued = self.tightener.try_prices(price, share, case.limits)
                if valued is None:
                    return case, None
                if valued[0] > case.value:
                    case = Case(valued[0], case.number, case.limits, price, share)
                new = valued[1]
                if new:
                    break
            settled = not new or solved.objective - case.value / SCALE < NEARLY
            if settled and not self.tightener.add_crowded(solved.taken):
                break
        return case, solved

    def _cut(self, case: Case, solved: Solved) -> tuple[Limits, ...]:
        """Cut at the order whose units are spread most over days late."""
        best = max(self._spreads(case.limits, solved), default=None)
        if best is None:
            return ()
        _, member, at = best
        return self._at_most(case.limits, member, at), self._more_than(case.limits, member, at)

    def _spreads(self, limits: Limits, solved: Solved) -> Iterator[tuple[float, int, int]]:
        """Yield orders and units with ways on either side of a day: by how much it costs that they are not whole."""
        late: dict[int, list[tuple[int, float]]] = {}
        for column, x in zip(self.master.columns, solved.taken, strict=False):
            if x > 1e-6:
                late.setdefault(column.member, []).append((column.late, float(x)))
        for m, rows in late.items():
            member = self.relaxation.orders.members[m]
            total = sum(x for _, x in rows)
            if not member.pieces and len(member.units) > 1:
                continue
            mean = sum(days * x for days, x in rows) / total
            at = int(np.floor(mean + 1e-6))
            above = sum(x for days, x in rows if days > at) / total
            if SPREAD < above < 1 - SPREAD / 4 and self._sure(limits, m) <= at < limits.most.get(m, 1 << 30):
                weight = self._weight(m)
                spread = sum(x * abs(days - mean) for days, x in rows) / total
                yield weight * spread, m, at

    def _sure(self, limits: Limits, m: int) -> int:
        """Days late that a case takes for granted of a unit, or of the order that is delivered with it."""
        pieces = self.relaxation.orders.members[m].pieces
        if not pieces:
            return limits.least.get(m, 0)
        begin = self.relaxation.orders.pieces[pieces[0]].first
        return begin + sum(limits.floor.get(number, 0) for number in pieces)

    def _weight(self, m: int) -> int:
        member = self.relaxation.orders.members[m]
        if member.pieces:
            return int(self.relaxation.orders.weights[member.pieces[0]])
        return int(member.direct.max() // max(1, member.late.max()))

    def _mates(self, m: int) -> list[int]:
        """Members of the same order, if they are delivered together."""
        pieces = self.relaxation.orders.members[m].pieces
        if not pieces:
            return [m]
        return [k for k, other in enumerate(self.relaxation.orders.members) if other.pieces == pieces]

    def _at_most(self, limits: Limits, m: int, days: int) -> Limits:
        return Limits(limits.most | dict.fromkeys(self._mates(m), days), limits.least, limits.floor)

    def _more_than(self, limits: Limits, m: int, days: int) -> Limits:
        member = self.relaxation.orders.members[m]
        later = int(member.late[member.late > days].min())
        if not member.pieces:
            return Limits(limits.most, limits.least | {m: later}, limits.floor)
        pieces = [(number, self.relaxation.orders.pieces[number]) for number in member.pieces]
        floor = {number: max(0, min(piece.width, later - piece.first)) for number, piece in pieces}
        return Limits(limits.most, limits.least, limits.floor | floor)
