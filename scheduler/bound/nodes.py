"""Nodes of a unit's chain: a key in a place, the slots at which it may start, what it takes, what may come before it."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from scheduler.activities.flags import flags_of
from scheduler.activities.network import Network, Path
from scheduler.bound.capacity import Capacities
from scheduler.bound.chain import Flags, Reach, Slots, keys_of
from scheduler.bound.places import Place, places_of

Bundle = tuple[tuple[int, int], ...]
"""Resources with the amounts that are taken over the same stretch."""


@dataclass(frozen=True, slots=True)
class Charge:
    """Amounts taken from slot ``begin[s]`` to before slot ``end[s]`` for a start ``s``.

    One side may be missing: a stay is charged by two charges, from the start of its first step and up to the end of its last
    one, and what lies between cancels out. Slots are clipped to the axis.
    """

    bundle: Bundle
    begin: Slots | None
    end: Slots | None


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
        self.ahead = np.arange(net.slots + 1)
        self._ends: dict[int, Slots] = {}
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
        for charge in self._charges(path, key, place, before[0].activity if before else None, follows):
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
            slots = self.ahead[:-1]
            high = np.searchsorted(between.earliest, slots, side="right") - 1
            low = None if between.latest is None else np.searchsorted(between.latest, slots, side="left")
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

    def _charges(self, path: Path, key: int, place: Place, before: int | None, follows: int | None) -> Iterator[Charge]:
        yield from self._work(key)
        yield from self._stay(key, place, before, follows)
        presence = tuple(self.capacities.present(path.present))
        if presence and key == path.first and not path.since_start:
            yield Charge(presence, self.ahead[:-1], None)
        if presence and key == path.last:
            yield Charge(presence, None, self._end(key))

    def _end(self, key: int, tail: int = 0) -> Slots:
        slots = self.net.activities[key].slots + tail
        if slots not in self._ends:
            self._ends[slots] = np.minimum(self.ahead[:-1] + slots, self.net.slots)
        return self._ends[slots]

    def _work(self, key: int) -> Iterator[Charge]:
        """People, tools and air while the step runs, and the slots in a warmer before it."""
        activity = self.net.activities[key]
        by_tail: dict[int, list[tuple[int, int]]] = {}
        for resource, amount, tail in self.capacities.uses(activity):
            by_tail.setdefault(tail, []).append((resource, amount))
        for tail, bundle in by_tail.items():
            yield Charge(tuple(bundle), self.ahead[:-1], self._end(key, tail))
        warmer = self.capacities.warmer()
        if activity.load is not None and warmer is not None and activity.packs:
            loaded = np.array(activity.load[: self.net.slots], dtype=np.int64)
            yield Charge(((warmer, activity.packs),), loaded, self._end(key))

    def _stay(self, key: int, place: Place, before: int | None, follows: int | None) -> Iterator[Charge]:
        """Places of a bay: from the first step of the stay, seen from its first key, to the last one, seen from its last key."""
        k = self.net.activities[key].stay
        if k < 0:
            return
        stay, bundle = self.net.stays[k], tuple(self.capacities.bays(place))
        if (before is None or before < stay.first) and not stay.since_start:
            begin = self.ahead[:-1] if key == stay.first else self.reach.latest_begin(stay.first, key, place)
            yield Charge(bundle, begin, None)
        if follows is None or follows > stay.last:
            yield Charge(bundle, None, self._end(key) if key == stay.last else self.reach.earliest_end(key, stay.last, place))
