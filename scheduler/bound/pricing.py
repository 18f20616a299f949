"""The cheapest way of a unit through its chain at given prices, exact in integers, slot by slot."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.bound.chain import Slots
from scheduler.bound.charges import Bundle, Charge
from scheduler.bound.nodes import Chain, Node, Step

Prices = NDArray[np.int64]
NEVER = 1 << 60
"""Cost of what cannot be; real costs stay below half of it."""


@dataclass(frozen=True, slots=True)
class Way:
    """Starts of a unit's keys, with the number of the node taken in each layer."""

    nodes: tuple[int, ...]
    starts: tuple[int, ...]


class Window:
    """Least value of an array over a stretch that depends on the slot."""

    def __init__(self, step: Step, n: int) -> None:
        self.n = n
        self.low, self.high = step.low, step.high
        wrong = step.high < 0
        if step.low is None:
            self.at = np.where(wrong, n, step.high).astype(np.int32)
            return
        wrong |= step.low > step.high
        length = np.where(wrong, 1, step.high - step.low + 1)
        level = np.floor(np.log2(length)).astype(np.int64)
        self.levels = int(level.max(initial=0)) + 1
        self.at = (level * (n + 1) + np.where(wrong, n, step.low)).astype(np.int32)
        self.other = (level * (n + 1) + np.where(wrong, n, step.high - (1 << level) + 1)).astype(np.int32)

    def least(self, values: Slots) -> Slots:
        """Least of ``values``, shape (n,), over each stretch; ``NEVER`` for an empty one."""
        if self.low is None:
            table = np.append(np.minimum.accumulate(values), NEVER)
            first: Slots = table[self.at]
            return first
        table = np.full((self.levels, self.n + 1), NEVER, dtype=np.int64)
        table[0, : self.n] = values
        for k in range(1, self.levels):
            half = 1 << (k - 1)
            np.minimum(table[k - 1, : self.n - half], table[k - 1, half : self.n], out=table[k, : self.n - half])
        flat = table.ravel()
        least: Slots = np.minimum(flat[self.at], flat[self.other])
        return least

    def argument(self, values: Slots, s: int) -> int:
        """Where the least value of the stretch of slot ``s`` is."""
        low = 0 if self.low is None else int(self.low[s])
        return low + int(np.argmin(values[low : int(self.high[s]) + 1]))


class Pricer:
    """Cheapest ways through chains.

    Parameters
    ----------
    chains : list of Chain
    n : int
        Slots of the axis.

    Attributes
    ----------
    most : int
        Highest price of a slot-amount at which no sum leaves 64 bits.
    """

    def __init__(self, chains: list[Chain], n: int) -> None:
        self.chains, self.n = chains, n
        self.bundles: dict[Bundle, int] = {}
        self.windows = [[[[Window(step, n) for step in node.steps] for node in layer] for layer in c.layers] for c in chains]
        self.closed = [[[np.where(node.allowed, 0, NEVER) for node in layer] for layer in c.layers] for c in chains]
        for chain in chains:
            for layer in chain.layers:
                for node in layer:
                    for charge in node.charges:
                        self.bundles.setdefault(charge.bundle, len(self.bundles))
        amounts = max(
            (sum(a for node in sum(c.layers, ()) for ch in node.charges for _, a in ch.bundle) for c in chains), default=0
        )
        self.most = (NEVER >> 2) // max(1, n * amounts)

    def stacked(self, price: Prices) -> Prices:
        """Price of each bundle up to a slot, shape (bundles, n + 1), from prices by slot, shape (resources, n)."""
        total = np.zeros((len(price), self.n + 1), dtype=np.int64)
        np.cumsum(price, axis=1, out=total[:, 1:])
        result = np.zeros((len(self.bundles), self.n + 1), dtype=np.int64)
        for bundle, row in self.bundles.items():
            for resource, amount in bundle:
                result[row] += amount * total[resource]
        return result

    def costs(self, c: int, stacked: Prices) -> list[list[Slots]]:
        """Least cost up to and with each start of each node of a chain."""
        found: list[list[Slots]] = []
        for k, (layer, own) in enumerate(zip(self.chains[c].layers, self.own_costs(c, stacked), strict=True)):
            for m, node in enumerate(layer):
                if found:
                    own[m] += self._before(found[-1], node, self.windows[c][k][m])
            found.append([np.minimum(cost, NEVER) for cost in own])
        return found

    def own_costs(self, c: int, stacked: Prices) -> list[list[Slots]]:
        """Cost of each start of each node of a chain for itself."""
        found: list[list[Slots]] = []
        for layer, closed in zip(self.chains[c].layers, self.closed[c], strict=True):
            row = []
            for node, shut in zip(layer, closed, strict=True):
                cost = shut.copy()
                for charge in node.charges:
                    cost += self._charge(charge, stacked)
                row.append(cost)
            found.append(row)
        return found

    def _charge(self, charge: Charge, stacked: Prices) -> Slots:
        line, cost = stacked[self.bundles[charge.bundle]], np.zeros(self.n, dtype=np.int64)
        if charge.end is not None:
            cost += line[charge.end]
        if charge.begin is not None:
            cost -= line[np.maximum(charge.begin, 0)]
        return cost

    def _before(self, costs: list[Slots], node: Node, windows: list[Window]) -> Slots:
        least = np.full(self.n, NEVER, dtype=np.int64)
        for step, window in zip(node.steps, windows, strict=True):
            np.minimum(least, window.least(costs[step.before]), out=least)
        return least

    def cheapest(self, c: int, costs: list[list[Slots]], last: Slots) -> tuple[int, Way | None]:
        """Cost and way of a unit whose last start costs ``last`` on top, shape (n,); no way if it does not fit."""
        layers = self.chains[c].layers
        totals = [row + last for row in costs[-1]]
        m = min(range(len(totals)), key=lambda k: int(totals[k].min()))
        s = int(np.argmin(totals[m]))
        value = int(totals[m][s])
        if value >= NEVER // 2:
            return value, None
        nodes, starts = [m], [s]
        for k in range(len(layers) - 1, 0, -1):
            m, s = self._back(costs[k - 1], layers[k][m], self.windows[c][k][m], s)
            nodes.append(m)
            starts.append(s)
        return value, Way(tuple(reversed(nodes)), tuple(reversed(starts)))

    def _back(self, costs: list[Slots], node: Node, windows: list[Window], s: int) -> tuple[int, int]:
        best: tuple[int, int, int] | None = None
        for step, window in zip(node.steps, windows, strict=True):
            if window.high[s] < 0 or (window.low is not None and window.low[s] > window.high[s]):
                continue
            t = window.argument(costs[step.before], s)
            value = int(costs[step.before][t])
            if best is None or value < best[0]:
                best = (value, step.before, t)
        if best is None:
            msg = "a start that has a cost has a start before it"
            raise AssertionError(msg)
        return best[1], best[2]
