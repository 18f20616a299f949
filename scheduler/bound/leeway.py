"""Which starts a unit may still have if lateness is to stay within a limit: the others cost more than there is.

At any prices the Lagrangian plus what a way costs above the unit's cheapest one is a bound for all schedules in which the unit
goes that way. Starts through which every way is too dear are left out; like the bound itself this is exact in integers.
"""

import numpy as np

from scheduler.activities.flags import mask_of
from scheduler.activities.network import Mask
from scheduler.bound.chain import Slots
from scheduler.bound.nodes import Step
from scheduler.bound.pricing import NEVER, Pricer, Prices, Window
from scheduler.bound.relaxation import SCALE, Relaxation
from scheduler.bound.tighten import Tightener

Layers = list[list[Slots]]


class Leeway:
    """What each start costs above the cheapest way of its unit, at the best prices of a bound.

    Parameters
    ----------
    tightener : Tightener
        A bound on its way up, in which every unit has a way.

    Attributes
    ----------
    value : int
        The Lagrangian at these prices, in parts of ``SCALE``.
    """

    def __init__(self, tightener: Tightener) -> None:
        self.relaxation: Relaxation = tightener.relaxation
        price, share = tightener.prices()
        whole = np.rint(price * SCALE).astype(np.int64)
        self._share = [int(x) for x in np.rint(share * SCALE)]
        self.value = self.relaxation.value(whole, self._share).value or 0
        stacked = self.relaxation.stacked(whole)
        self._above = [self._above_cheapest(m, stacked) for m in range(len(self.relaxation.orders.members))]

    def _above_cheapest(self, m: int, stacked: Prices) -> Layers:
        """What the cheapest way through each start of each node costs above the cheapest way of all, shape (n,) each."""
        chain, pricer = self.relaxation.orders.members[m].chain, self.relaxation.pricer
        before = pricer.costs(chain, stacked)
        after = costs_after(pricer, chain, stacked, self.relaxation.last_cost(m, self._share))
        least = min(int((row + rest).min()) for row, rest in zip(before[-1], after[-1], strict=True))
        layers = zip(before, after, strict=True)
        return [[np.minimum(b + a, NEVER) - least for b, a in zip(*rows, strict=True)] for rows in layers]

    def starts(self, lateness: int) -> list[dict[int, Mask]]:
        """Starts of each activity by bay class that a schedule of at most so many weighted days late may have."""
        relaxation, left = self.relaxation, lateness * SCALE - self.value
        found = [dict(a.starts) for a in relaxation.net.activities]
        for m, member in enumerate(relaxation.orders.members):
            layers = relaxation.chains[member.chain].layers
            for layer, above in zip(layers, self._above[m], strict=True):
                for node, dear in zip(layer, above, strict=True):
                    mask = mask_of(dear <= left)
                    for unit in member.units:
                        key = node.activity + relaxation.net.paths[unit].first - layers[0][0].activity
                        for c in node.place:
                            if c in found[key]:
                                found[key][c] &= mask
        return found


def costs_after(pricer: Pricer, c: int, stacked: Prices, last: Slots) -> Layers:
    """Least cost of what comes after each start of each node of a chain; ``last`` is what the last start costs on top."""
    layers = pricer.chains[c].layers
    own = pricer.own_costs(c, stacked)
    found: Layers = [[last.copy() for _ in layers[-1]]]
    for k in range(len(layers) - 2, -1, -1):
        row = [np.full(pricer.n, NEVER, dtype=np.int64) for _ in layers[k]]
        for node, cost, rest in zip(layers[k + 1], own[k + 1], found[0], strict=True):
            total = np.minimum(cost + rest, NEVER)
            for step in node.steps:
                np.minimum(row[step.before], _turned(step, pricer.n).least(total), out=row[step.before])
        found.insert(0, row)
    return found


def _turned(step: Step, n: int) -> Window:
    """The starts that may follow each start of the node before; both limits of a step only ever rise."""
    slots = np.arange(n)
    low = np.searchsorted(step.high, slots, side="left")
    high = np.full(n, n - 1) if step.low is None else np.searchsorted(step.low, slots, side="right") - 1
    return Window(Step(step.before, np.minimum(low, n - 1), np.where(low < n, high, -1)), n)
