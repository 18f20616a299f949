"""What a step of a unit takes of the shop: people, tools and air, warmer slots, places in bays, room on the site."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from scheduler.activities.network import Network, Path
from scheduler.bound.capacity import Capacities
from scheduler.bound.chain import Reach, Slots
from scheduler.bound.places import Place

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


class Charges:
    """Charges of the keys of a network's units.

    Parameters
    ----------
    net : Network
    capacities : Capacities
    reach : Reach
    """

    def __init__(self, net: Network, capacities: Capacities, reach: Reach) -> None:
        self.net, self.capacities, self.reach = net, capacities, reach
        self.slots = np.arange(net.slots)
        self._ends: dict[int, Slots] = {}

    def of(self, path: Path, key: int, place: Place, before: int | None, follows: int | None) -> Iterator[Charge]:
        """Yield the charges of a key in a place, between the keys before and after it."""
        yield from self._work(key)
        yield from self._stay(key, place, before, follows)
        presence = tuple(self.capacities.present(path.present))
        if presence and key == path.first and not path.since_start:
            yield Charge(presence, self.slots, None)
        if presence and key == path.last:
            yield Charge(presence, None, self._end(key))

    def _end(self, key: int, tail: int = 0) -> Slots:
        slots = self.net.activities[key].slots + tail
        if slots not in self._ends:
            self._ends[slots] = np.minimum(self.slots + slots, self.net.slots)
        return self._ends[slots]

    def _work(self, key: int) -> Iterator[Charge]:
        """People, tools and air while the step runs, and the slots in a warmer before it."""
        activity = self.net.activities[key]
        by_tail: dict[int, list[tuple[int, int]]] = {}
        for resource, amount, tail in self.capacities.uses(activity):
            by_tail.setdefault(tail, []).append((resource, amount))
        for tail, bundle in by_tail.items():
            yield Charge(tuple(bundle), self.slots, self._end(key, tail))
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
            begin = self.slots if key == stay.first else self.reach.latest_begin(stay.first, key, place)
            yield Charge(bundle, begin, None)
        if follows is None or follows > stay.last:
            yield Charge(bundle, None, self._end(key) if key == stay.last else self.reach.earliest_end(key, stay.last, place))
