"""Nodes of a unit's chain: a key in a place, the slots at which it may start, what it takes, what may come before it."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from scheduler.activities.flags import flags_of
from scheduler.activities.network import Network, Path
from scheduler.bound.capacity import Capacities
from scheduler.bound.chain import Flags, Reach, Slots, keys_of
from scheduler.bound.charges import Charge, Charges
from scheduler.bound.places import Place, places_of


@dataclass(frozen=True, slots=True)
class Step:
    """Starts of the node before that a start of this node may follow: from ``low[s]`` to ``high[s]``, none if above it."""

    before: int
    low: Slots | None
    high: Slots


@dataclass(frozen=True, slots=True)
class Node:
    """A key in a place."""

    activity: int
    place: Place
    allowed: Flags
    charges: tuple[Charge, ...]
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Chain:
    """Layers of nodes, one a key; a unit goes through one node of each layer."""

    layers: tuple[tuple[Node, ...], ...]


class ChainBuilder:
    """Builds the chains of a network's units.

    Parameters
    ----------
    net : Network
    capacities : Capacities
    """

    def __init__(self, net: Network, capacities: Capacities) -> None:
        self.net, self.capacities, self.reach = net, capacities, Reach(net, capacities)
        self.charges = Charges(net, capacities, self.reach)
        self.slots = np.arange(net.slots)
        owner = {i: p for p, path in enumerate(net.paths) for i in range(path.first, path.last + 1)}
        self.lags_of: list[list[int]] = [[] for _ in net.paths]
        for k, lag in enumerate(net.lags):
            if owner[lag.first] == owner[lag.then]:
                self.lags_of[owner[lag.first]].append(k)

    def alike(self, p: int) -> tuple[object, ...]:
        """Everything in which two units can differ; units with equal words have the same chain."""
        net, path = self.net, self.net.paths[p]
        steps = tuple(
            (
                a.slots,
                tuple(sorted(a.starts.items())),
                a.crew,
                a.demands,
                a.respirator,
                a.product is None,
                a.packs if a.load is not None else 0,
                id(a.load),
                a.stay - path.stays[0] if a.stay >= 0 else -1,
            )
            for a in net.activities[path.first : path.last + 1]
        )
        stays = tuple((net.stays[k].classes, net.stays[k].since_start) for k in path.stays)
        lags = tuple(
            (
                net.lags[k].first - path.first,
                net.lags[k].then - path.first,
                tuple((c, id(curve)) for c, curve in net.lags[k].earliest.items()),
                tuple((c, id(curve)) for c, curve in net.lags[k].latest.items()),
            )
            for k in self.lags_of[p]
        )
        return steps, stays, lags, path.present, path.since_start

    def chain(self, p: int) -> Chain:
        """Build the chain of a unit."""
        net, path = self.net, self.net.paths[p]
        keys = keys_of(path, [net.lags[k] for k in self.lags_of[p]], net.activities)
        layers: list[tuple[Node, ...]] = []
        for k, key in enumerate(keys):
            before = layers[-1] if layers else ()
            places = places_of(net, net.activities[key].stay)
            follows = keys[k + 1] if k + 1 < len(keys) else None
            layers.append(tuple(self._node(path, key, place, before, follows) for place in places))
        return Chain(tuple(layers))

    def _node(self, path: Path, key: int, place: Place, before: tuple[Node, ...], follows: int | None) -> Node:
        allowed = flags_of(self.reach.starts(key, place), self.net.slots)
        charges, possible = [], allowed
        for charge in self.charges.of(path, key, place, before[0].activity if before else None, follows):
            charges.append(charge)
            if charge.begin is not None:
                possible = possible & (charge.begin >= 0)
        steps = tuple(self._steps(key, place, before))
        return Node(key, place, possible, tuple(charges), steps)

    def _steps(self, key: int, place: Place, before: tuple[Node, ...]) -> Iterator[Step]:
        for number, node in enumerate(before):
            stay = self.net.activities[key].stay
            if stay >= 0 and stay == self.net.activities[node.activity].stay and node.place != place:
                continue
            between = self.reach.between(node.activity, key, self._where(node, key, place))
            high = np.searchsorted(between.earliest, self.slots, side="right") - 1
            low = None if between.latest is None else np.searchsorted(between.latest, self.slots, side="left")
            yield Step(number, low, high)

    def _where(self, node: Node, key: int, place: Place) -> dict[int, Place]:
        """Places of the steps from a node to a key: known in the stays of the two, all classes elsewhere."""
        acts = self.net.activities
        found: dict[int, Place] = {}
        for a in range(node.activity, key + 1):
            stay = acts[a].stay
            if stay < 0:
                found[a] = (0,)
            elif stay == acts[node.activity].stay:
                found[a] = node.place
            elif stay == acts[key].stay:
                found[a] = place
            else:
                found[a] = self.net.stays[stay].classes
        return found
