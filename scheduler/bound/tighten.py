"""Tighten the bound step by step: solve over the ways known, price new ones, look for crowded hours; better at any moment."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.columns import ANYTHING, Limits
from scheduler.bound.master import Floats, Master
from scheduler.bound.relaxation import SCALE, Relaxation
from scheduler.bound.separate import crowded

SMOOTHING = 0.5
"""Share of the best prices so far in those that are tried: pure dual prices jump about."""
NEAR = 0.02
"""Share of the objective from which on crowded hours are looked for."""
NEW_ROWS = 150


@dataclass
class Tightener:
    """The bound of a network on its way up.

    Attributes
    ----------
    best : int
        Best Lagrangian so far in parts of ``SCALE``; certified, since it is worked out in integers at integer prices.
    fits : bool
        False once it is known that a unit has no way at all.
    """

    net: Network
    best: int = 0
    fits: bool = True
    done: bool = False
    rounds: int = 0
    relaxation: Relaxation = field(init=False)
    master: Master = field(init=False)

    def __post_init__(self) -> None:
        """Build the relaxation and its first prices: nothing costs anything, each order is paid for by all its units."""
        self.relaxation = Relaxation(self.net)
        self.master = Master(self.relaxation)
        orders = self.relaxation.orders
        units = np.zeros(len(orders.pieces))
        for m, piece in self.relaxation.shares:
            units[piece] += len(orders.members[m].units)
        self._price: Floats = np.zeros(len(self.relaxation.rows))
        self._share: Floats = np.array([orders.weights[piece] / units[piece] for _, piece in self.relaxation.shares])
        self._try(self._price, self._share)

    @property
    def bound(self) -> int:
        """Weighted days late that no schedule is below."""
        return whole_days(self.net, self.best)

    def learn(self, schedules: Iterable[Placed]) -> None:
        """Take in the ways of schedules that are known."""
        for placed in schedules:
            for m, member in enumerate(self.relaxation.orders.members):
                for unit in member.units:
                    self.master.add(self.relaxation.column(m, self.relaxation.way_of(m, unit, placed)))

    def step(self) -> None:
        """Solve once and price once or twice; look for crowded hours when there is little left to gain otherwise."""
        self.rounds += 1
        solved = self.master.solve()
        price = SMOOTHING * self._price + (1 - SMOOTHING) * solved.price
        share = SMOOTHING * self._share + (1 - SMOOTHING) * solved.share
        new = self._try(price, share) or self._try(solved.price, solved.share)
        left = solved.objective - self.best / SCALE
        if new and left > NEAR * max(1.0, solved.objective):
            return
        rows = self.add_crowded(solved.taken)
        self.done = not rows and (not new or left < 1e-3)

    def _try(self, price: Floats, share: Floats) -> int:
        """Price; return how many new ways were found."""
        tried = self.try_prices(price, share, ANYTHING)
        if tried is None:
            self.fits, self.done = False, True
            return 0
        value, new = tried
        if value > self.best:
            self.best, self._price, self._share = value, price, share
        return new

    def try_prices(self, price: Floats, share: Floats, limits: Limits) -> tuple[int, int] | None:
        """Price under limits: the Lagrangian and how many new ways were found; None if a unit has no way."""
        whole = np.rint(price * SCALE).astype(np.int64)
        valued = self.relaxation.value(whole, [int(x) for x in np.rint(share * SCALE)], limits)
        if valued.value is None:
            return None
        return valued.value, sum(self.master.add(self.relaxation.column(m, way)) for m, way in enumerate(valued.ways))

    def prices(self) -> tuple[Floats, Floats]:
        """Prices of the rows and shares at which the bound was reached."""
        return self._price, self._share

    def add_crowded(self, taken: Floats) -> int:
        """Look for crowded hours in a solution and add rows for them; return how many."""
        used = [(column, x) for column, x in zip(self.master.columns, taken, strict=False) if x > 1e-7]
        if not used:
            return 0
        events = np.concatenate([column.events for column, _ in used])
        amounts = np.concatenate([column.events[:, 1] * x for column, x in used])
        stretches = crowded(self.relaxation.capacities, self.relaxation.taken(events, amounts), NEW_ROWS)
        before = self.relaxation.rows.add(stretches)
        added = len(self.relaxation.rows) - before
        if added:
            self.master.extend(before)
            self._price = np.append(self._price, np.zeros(added))
        return added


def whole_days(net: Network, value: int) -> int:
    """Round a Lagrangian up to the next sum that weighted days late can be: a multiple of the common step of the weights."""
    step = math.gcd(*(due.weight for due in net.dues)) or 1
    return max(0, -(-value // (SCALE * step)) * step)
