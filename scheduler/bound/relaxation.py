"""The relaxation of a network: each unit alone keeps all its rules to the slot, together they keep what the shop has to share.

For any prices the Lagrangian is a lower bound: units choose their cheapest ways, what the capacities are worth is taken off.
It is worked out in integers, ``SCALE`` to one weighted day.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.capacity import Amounts, Capacities
from scheduler.bound.chain import Slots
from scheduler.bound.columns import ANYTHING, Column, Limits
from scheduler.bound.nodes import Chain, ChainBuilder
from scheduler.bound.orders import Member, orders_of
from scheduler.bound.pricing import NEVER, Pricer, Way
from scheduler.bound.rows import Rows

SCALE = 1 << 24
PRICES_A_SLOT = 8
"""Rows that may lie over one slot of a resource: its day and one stretch for each way to cut the day."""
Number = TypeVar("Number", np.int64, np.float64)


@dataclass(frozen=True, slots=True)
class Valued:
    """The Lagrangian at some prices, in parts of ``SCALE``, and the ways that reach it; no value if a unit does not fit."""

    value: int | None
    ways: tuple[Way, ...]


@dataclass
class Relaxation:
    """Chains, rows and orders of a network, ready to be priced."""

    net: Network
    chains: list[Chain] = field(init=False)

    def __post_init__(self) -> None:
        """Build; units that are alike share a chain."""
        self.capacities = Capacities(self.net)
        self.rows = Rows(self.capacities)
        builder, seen, chain_of = ChainBuilder(self.net, self.capacities), dict[object, int](), []
        self.chains = []
        for p in range(len(self.net.paths)):
            word = builder.alike(p)
            if word not in seen:
                seen[word] = len(self.chains)
                self.chains.append(builder.chain(p))
            chain_of.append(seen[word])
        self.orders = orders_of(self.net, chain_of)
        self.pricer = Pricer(self.chains, self.net.slots)
        self.members_of: list[list[int]] = [[] for _ in self.chains]
        for m, member in enumerate(self.orders.members):
            self.members_of[member.chain].append(m)
        self.shares = [(m, piece) for m, member in enumerate(self.orders.members) for piece in member.pieces]
        self.share_at = {pair: k for k, pair in enumerate(self.shares)}
        self.last_slots = [self.net.activities[c.layers[-1][0].activity].slots for c in self.chains]

    def ends(self, member: Member) -> Slots:
        """End of a member's unit for each start of its last step, shape (n,)."""
        return np.minimum(np.arange(self.net.slots) + self.last_slots[member.chain], self.net.slots)

    def value(self, price: Amounts, share: Sequence[int], limits: Limits = ANYTHING) -> Valued:
        """Lagrangian at prices of the rows and of each member's share in each piece, none below 0.

        Prices that are too high to reckon with are cut: the Lagrangian is a bound at any prices.
        """
        members = self.orders.members
        price = self._cut(price)
        stacked = self.pricer.stacked(self.rows.by_slot(price))
        total, ways = self._outside(price, share, limits), [Way((), ())] * len(members)
        for c, mine in enumerate(self.members_of):
            costs = self.pricer.costs(c, stacked)
            for m in mine:
                least, way = self.pricer.cheapest(c, costs, self.last_cost(m, share, limits))
                if way is None:
                    return Valued(None, ())
                total += len(members[m].units) * least
                ways[m] = way
        return Valued(total, tuple(ways))

    def stacked(self, price: Amounts) -> Amounts:
        """Price of each bundle up to a slot at prices of the rows, cut as :meth:`value` cuts them."""
        return self.pricer.stacked(self.rows.by_slot(self._cut(price)))

    def _cut(self, price: Amounts) -> Amounts:
        cut: Amounts = np.minimum(price, self.pricer.most // PRICES_A_SLOT)
        return cut

    def last_cost(self, m: int, share: Sequence[int], limits: Limits = ANYTHING) -> Slots:
        """What each last start of a member's unit costs for being late, shape (n,)."""
        member = self.orders.members[m]
        cost = member.direct * SCALE
        if m in limits.most:
            cost = np.where(member.late > limits.most[m], NEVER, cost)
        if m in limits.least:
            cost = np.where(member.late < limits.least[m], NEVER, cost)
        for piece in member.pieces:
            cost = cost + self.orders.in_piece[piece] * share[self.share_at[m, piece]]
        return cost[self.ends(member)]

    def _outside(self, price: Amounts, share: Sequence[int], limits: Limits) -> int:
        """What the Lagrangian holds besides the ways: worth of the capacities, pieces that are underpaid, settled days."""
        worth = sum(int(p) * int(amount) for p, amount in zip(price, self.rows.capacity, strict=True) if p)
        paid = [0] * len(self.orders.pieces)
        for (m, piece), amount in zip(self.shares, share, strict=True):
            paid[piece] += len(self.orders.members[m].units) * int(amount)
        left = (int(w) * SCALE - p for w, p in zip(self.orders.weights, paid, strict=True))
        least = [limits.floor.get(number, 0) for number in range(len(self.orders.pieces))]
        rows = zip(left, least, self.orders.pieces, strict=True)
        under = sum(short * (low if short >= 0 else piece.width) for short, low, piece in rows)
        return self.orders.settled * SCALE - worth + under

    def column(self, m: int, way: Way) -> Column:
        """What a way costs and uses."""
        member = self.orders.members[m]
        end = int(self.ends(member)[way.starts[-1]])
        in_pieces = tuple(int(self.orders.in_piece[piece][end]) for piece in member.pieces)
        return Column(m, int(member.late[end]), int(member.direct[end]), in_pieces, self._events(member.chain, way))

    def _events(self, chain: int, way: Way) -> Amounts:
        found: list[tuple[int, int, int]] = []
        for layer, k, s in zip(self.chains[chain].layers, way.nodes, way.starts, strict=True):
            for charge in layer[k].charges:
                for slots, sign in ((charge.begin, -1), (charge.end, 1)):
                    if slots is not None and slots[s] > 0:
                        found += [(resource, sign * amount, int(slots[s])) for resource, amount in charge.bundle]
        return np.array(found, dtype=np.int64).reshape(-1, 3)

    def use(self, column: Column, begin: int = 0) -> Amounts:
        """Slot-amounts that a column takes of each row from number ``begin`` on."""
        stacked = np.zeros_like(self.rows.stacked)
        np.cumsum(self.taken(column.events, column.events[:, 1]), axis=1, out=stacked[:, 1:])
        return self.rows.sums(stacked, begin)

    def taken(self, events: Amounts, amounts: NDArray[Number]) -> NDArray[Number]:
        """What events take of each resource in each slot, shape (resources, n)."""
        count, n = len(self.capacities.names), self.net.slots
        steps = np.zeros((count, n + 1), dtype=amounts.dtype)
        np.add.at(steps[:, 0], events[:, 0], amounts)
        np.subtract.at(steps, (events[:, 0], events[:, 2]), amounts)
        return np.cumsum(steps, axis=1)[:, :n]

    def way_of(self, m: int, unit: int, placed: Placed) -> Way:
        """The way that a schedule takes a unit of a member."""
        layers = self.chains[self.orders.members[m].chain].layers
        moved = self.net.paths[unit].first - layers[0][0].activity
        nodes, starts = [], []
        for layer in layers:
            key = layer[0].activity + moved
            stay = self.net.activities[key].stay
            bay_class = 0 if stay < 0 else placed.bay_class[stay]
            nodes.append(next(k for k, node in enumerate(layer) if bay_class in node.place))
            starts.append(placed.start[key])
        return Way(tuple(nodes), tuple(starts))
