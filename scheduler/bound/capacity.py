"""What the shop has to share, slot by slot, and for hours under a respirator day by day."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.flags import flags_of, mask_of
from scheduler.activities.masks import below
from scheduler.activities.network import Activity, Mask, Network
from scheduler.bound.places import Place, places_of
from scheduler.bound.teams import taken_of, team_sizes

Amounts = NDArray[np.int64]
MOST_SKILLS = 8
"""Skills up to which every group of them is looked at; beyond it single skills and all of them."""


@dataclass
class Capacities:
    """Resources that count.

    Attributes
    ----------
    names, rules : list of str
        What each resource is, and the rule that it belongs to.
    by_slot : list of arrays
        Capacity of each resource in each slot, shape (n,). For hours under a respirator it is what the whole day allows,
        written at the first slot of the day: it says nothing of single hours.
    by_day : set of int
        Resources that count by whole days only.
    """

    net: Network
    names: list[str] = field(default_factory=list)
    rules: list[str] = field(default_factory=list)
    by_slot: list[Amounts] = field(default_factory=list)
    by_day: set[int] = field(default_factory=set)
    _pool_at: dict[int, int] = field(default_factory=dict)
    _crew: list[tuple[frozenset[int], int, int | None]] = field(default_factory=list)
    _teams: list[tuple[frozenset[int], int, int]] = field(default_factory=list)
    _bays: list[tuple[frozenset[int], int]] = field(default_factory=list)
    _roomy: dict[tuple[tuple[int, int, int], ...], Mask] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Count what is there."""
        numbers, first = np.unique(np.array(self.net.day, dtype=np.int64), return_index=True)
        self.day_numbers, self.day_first = numbers, np.append(first, self.net.slots).astype(np.int64)
        self._able = {s: self._workers_with(s) for s in sorted({s for a in self.net.activities for s, _ in a.crew})}
        for pool in range(len(self.net.pools)):
            self._add_pool(pool)
        for group in self._groups():
            self._add_crew(group)
        self._add_teams()
        for place in dict.fromkeys(self._places()):
            self._add_bays(frozenset(place))

    def _add(self, rule: str, name: str, by_slot: Amounts) -> int:
        self.names.append(name)
        self.rules.append(rule)
        self.by_slot.append(np.maximum(by_slot, 0))
        return len(self.names) - 1

    def _add_pool(self, p: int) -> None:
        """Add a pool; units that are on the site already may overfill the yard for as long as they are alone there."""
        pool = self.net.pools[p]
        there = sum(p in path.present and path.since_start for path in self.net.paths)
        by_slot = np.full(self.net.slots, pool.capacity, dtype=np.int64)
        for start, end, amount in pool.taken:
            by_slot[start:end] -= amount
        self._pool_at[p] = self._add(pool.rule, pool.key, np.maximum(by_slot, there))

    def _workers_with(self, skill: str) -> frozenset[int]:
        return frozenset(w for w, worker in enumerate(self.net.workers) if skill in worker.skills)

    def _groups(self) -> list[frozenset[int]]:
        """Groups of workers who are able to meet some of the needs: by Hall's theorem these are all that can be short."""
        singles = list(dict.fromkeys(self._able.values()))
        sizes = range(1, len(singles) + 1) if len(singles) <= MOST_SKILLS else (1, len(singles))
        unions = (frozenset[int]().union(*group) for size in sizes for group in combinations(singles, size))
        return list(dict.fromkeys(unions))

    def _free(self, w: int) -> Amounts:
        return flags_of(self.net.workers[w].free, self.net.slots).astype(np.int64)

    def _add_crew(self, group: frozenset[int]) -> None:
        free = sum((self._free(w) for w in sorted(group)), np.zeros(self.net.slots, dtype=np.int64))
        name = " ".join(self.net.workers[w].key for w in sorted(group))
        people = not group or any(self.net.workers[w].is_person for w in group)
        hours, mask = self._add("crew_skills" if people else "lifting", f"crew {name}", free), None
        if any(self.net.workers[w].respirator_slots is not None for w in group):
            mask = self._add("respirator_hours", f"respirator {name}", self._respirator(group))
            self.by_day.add(mask)
        self._crew.append((group, hours, mask))

    def _add_teams(self) -> None:
        """Add teams where at some time somebody is left over."""
        hours = {group: row for group, row, _ in self._crew}
        for group, sizes in team_sizes([*hours], (a.crew for a in self.net.activities), self._able).items():
            for size in sizes:
                free = self.by_slot[hours[group]]
                if (free % size).any():
                    row = self._add(self.rules[hours[group]], f"{self.names[hours[group]]} by {size}", free // size)
                    self._teams.append((group, size, row))

    def _respirator(self, group: frozenset[int]) -> Amounts:
        """Slots a day under a respirator of a group; somebody without a limit has their free time."""
        total = np.zeros(self.net.slots, dtype=np.int64)
        first = self.day_first[:-1]
        for w in sorted(group):
            worker = self.net.workers[w]
            there = np.add.reduceat(self._free(w), first) if len(first) else np.zeros(0, dtype=np.int64)
            if worker.respirator_slots is not None:
                used = dict(worker.respirator_used)
                left = np.array([worker.respirator_slots - used.get(int(d), 0) for d in self.day_numbers], dtype=np.int64)
                there = np.minimum(there, np.maximum(left, 0))
            total[first] += there
        return total

    def _places(self) -> Iterator[Place]:
        for k, stay in enumerate(self.net.stays):
            yield from places_of(self.net, k)
            yield tuple(stay.classes)

    def _add_bays(self, classes: frozenset[int]) -> None:
        by_slot = np.zeros(self.net.slots, dtype=np.int64)
        for c in sorted(classes):
            group = self.net.classes[c]
            room = flags_of(group.free, self.net.slots) * np.int64(group.places)
            for start, end, amount in group.taken:
                room[start:end] -= amount
            by_slot += np.maximum(room, 0)
        name = " ".join(self.net.classes[c].key for c in sorted(classes))
        self._bays.append((classes, self._add("bay_places", f"bays {name}", by_slot)))

    def uses(self, activity: Activity) -> list[tuple[int, int, int]]:
        """What an activity takes while it runs: (resource, amount, slots after its end)."""
        found = [(self._pool_at[d.pool], d.amount, d.tail) for d in activity.demands]
        for group, hours, mask in self._crew:
            people = taken_of(group, activity.crew, self._able)
            if people:
                found.append((hours, people, 0))
                if mask is not None and activity.respirator:
                    found.append((mask, people, 0))
        for group, size, row in self._teams:
            teams = taken_of(group, activity.crew, self._able) // size
            if teams:
                found.append((row, teams, 0))
        return found

    def roomy(self, activity: Activity) -> Mask:
        """Slots from which there is enough of everything that an activity takes, if it has the shop to itself."""
        needs = tuple((r, amount, activity.slots + tail) for r, amount, tail in self.uses(activity) if r not in self.by_day)
        return self._room_for(needs) & self._warm_from(activity)

    def in_bays(self, place: Place, slots: int) -> Mask:
        """Slots from which one of the bays of a place is open and has a place for so long."""
        return self._room_for(tuple((r, 1, slots) for classes, r in self._bays if classes == set(place)))

    def _room_for(self, needs: tuple[tuple[int, int, int], ...]) -> Mask:
        if needs not in self._roomy:
            self._roomy[needs] = mask_of(self._enough(needs))
        return self._roomy[needs]

    def _warm_from(self, activity: Activity) -> Mask:
        """Slots for which enough warmer slots are there from loading to the end."""
        n, warmer = self.net.slots, self.warmer()
        if activity.load is None or warmer is None:
            return below(n)
        loaded = np.array(activity.load[:n], dtype=np.int64)
        short = np.append(0, np.cumsum(self.by_slot[warmer] < activity.packs))
        ends = np.minimum(np.arange(n) + activity.slots, n)
        return mask_of((loaded >= 0) & (short[ends] == short[np.maximum(loaded, 0)]))

    def _enough(self, needs: tuple[tuple[int, int, int], ...]) -> NDArray[np.bool_]:
        n, flags = self.net.slots, np.ones(self.net.slots, dtype=bool)
        starts = np.arange(n)
        for resource, amount, slots in needs:
            short = np.append(0, np.cumsum(self.by_slot[resource] < amount))
            flags &= short[np.minimum(starts + slots, n)] == short[starts]
        return flags

    def bays(self, place: Place) -> list[tuple[int, int]]:
        """What a stay in one of the classes of a place takes: (resource, places)."""
        return [(row, 1) for classes, row in self._bays if classes >= set(place)]

    def present(self, pools: Sequence[int]) -> list[tuple[int, int]]:
        """What a unit takes while it is on the site: (resource, units)."""
        return [(self._pool_at[p], 1) for p in pools]

    def warmer(self) -> int | None:
        """Resource of the warmer slots."""
        return None if self.net.warmer is None else self._pool_at.get(self.net.warmer)
