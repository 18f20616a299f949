"""From the network to the routes that insertion walks: needs, groups of people, pools in their unit, starts seen ahead."""

from collections.abc import Hashable, Mapping, Sequence
from itertools import combinations
from math import gcd
from typing import TYPE_CHECKING

from scheduler.activities.masks import Masks
from scheduler.activities.network import Activity, Curve, Demand, Lag, Network, Path
from scheduler.search.stay_length import StayLength
from scheduler.search.steps import YARD, Group, Leads, Route, Segment, Step, Use, Wait

if TYPE_CHECKING:
    from scheduler.search.foresight import Foresight

CrewNeed = tuple[tuple[str, int], ...]
Need = tuple[str, tuple[int, ...]]


def units_of_pools(net: Network) -> tuple[int, ...]:
    """Greatest unit in which everything that is taken of a pool can be counted, for each pool."""
    amounts = [[amount for _, _, amount in pool.taken] for pool in net.pools]
    for activity in net.activities:
        for demand in activity.demands:
            amounts[demand.pool].append(demand.amount)
        if net.warmer is not None and activity.load is not None:
            amounts[net.warmer].append(activity.packs)
    present = {pool for path in net.paths for pool in path.present}
    return tuple(gcd(*row, *([1] if i in present else [])) or 1 for i, row in enumerate(amounts))


class Routes:
    """Works out the routes of a network."""

    def __init__(self, net: Network) -> None:
        self.net = net
        self.unit_of = units_of_pools(net)
        self._groups: dict[CrewNeed, tuple[Group, ...]] = {}
        self._crew_keys: dict[tuple[CrewNeed, int], int] = {}
        self._needs: dict[CrewNeed, tuple[Need, ...]] = {}
        self._uses: dict[tuple[tuple[Demand, ...], int], tuple[Use, ...]] = {}
        self._lengths: dict[Hashable, StayLength] = {}
        self._able: dict[str, tuple[int, ...]] = {}
        self._has_air = [c.air_space is not None for c in net.classes]
        self._foresight: Foresight | None = None

    def all(self) -> tuple[Route, ...]:
        """One route a path, in the order of the paths."""
        into: dict[int, list[Lag]] = {}
        for lag in self.net.lags:
            into.setdefault(lag.then, []).append(lag)
        return tuple(self._route(number, path, into) for number, path in enumerate(self.net.paths))

    def _route(self, number: int, path: Path, into: dict[int, list[Lag]]) -> Route:
        lags = [lag for i in range(path.first, path.last + 1) for lag in into.get(i, ())]
        starts = self.starts(path, lags)
        body = 1 if path.late_pickup else 0
        waits: list[list[Wait]] = [[] for _ in starts]
        pickup = []
        for lag in lags:
            wait = Wait(lag.first - path.first, lag.earliest, lag.latest)
            if wait.first < body:
                pickup.append((lag.then - path.first, wait))
            else:
                waits[lag.then - path.first].append(wait)
        leads: list[list[tuple[int, Mapping[int, Curve]]]] = [[] for _ in starts]
        for lag in lags:
            if lag.earliest:
                leads[lag.first - path.first].append((lag.then - path.first, lag.earliest))
        steps = tuple(self._step(path.first, k, starts[k], tuple(waits[k]), tuple(leads[k])) for k in range(len(starts)))
        segments = self._segments(path, body, steps)
        segment_of = [next((n for n, s in enumerate(segments) if s.first <= k <= s.last), 0) for k in range(len(steps))]
        return Route(number, path, steps, segments, tuple(segment_of), body, tuple(pickup))

    def starts(self, path: Path, lags: Sequence[Lag]) -> list[Masks]:
        """Starts of a unit's steps by bay class; arrays are loaded only where they are looked at ahead."""
        if self._foresight is None:
            from scheduler.search.foresight import Foresight

            self._foresight = Foresight(self.net)
        return self._foresight.starts(path, lags)

    def _segments(self, path: Path, body: int, steps: Sequence[Step]) -> tuple[Segment, ...]:
        found, k = [], body
        while path.first + k <= path.last:
            stay = self.net.activities[path.first + k].stay
            row = self.net.stays[stay] if stay >= 0 else None
            last = row.last - path.first if row else k
            begun = row.since_start if row else False
            least = 1 if begun else sum(self.net.activities[i].slots for i in range(path.first + k, path.first + last + 1))
            found.append(Segment(k, last, stay, row.classes if row else (YARD,), begun, least, self._length(steps[k : last + 1])))
            k = last + 1
        return tuple(found)

    def _length(self, steps: Sequence[Step]) -> StayLength:
        first = steps[0].offset
        rows = [(s.starts, s.slots, tuple((w.first - first, w.earliest) for w in s.waits if w.first >= first)) for s in steps]
        key = tuple((id(starts), slots, tuple((k, id(earliest)) for k, earliest in inside)) for starts, slots, inside in rows)
        if key not in self._lengths:
            self._lengths[key] = StayLength(rows, self.net.slots)
        return self._lengths[key]

    def _step(self, first: int, offset: int, starts: Mapping[int, int], waits: tuple[Wait, ...], leads: Leads) -> Step:
        index = first + offset
        activity = self.net.activities[index]
        warm = activity.load is not None and self.net.warmer is not None
        run = -activity.slots if activity.respirator else activity.slots
        airs = any(self._has_air[c] for c in activity.starts) if activity.emits_vapour else False
        return Step(
            index=index,
            offset=offset,
            activity=activity,
            slots=activity.slots,
            starts=starts,
            needs=self._needs_of(activity.crew),
            groups=self._groups_of(activity.crew),
            run=run,
            crew_key=self._crew_keys.setdefault((activity.crew, run), len(self._crew_keys)),
            uses=self._uses_of(activity),
            waits=waits,
            leads=leads,
            load=activity.load if warm else None,
            packs=activity.packs // self.unit_of[self.net.warmer] if warm and self.net.warmer is not None else 0,
            curved=warm or airs,
        )

    def _uses_of(self, activity: Activity) -> tuple[Use, ...]:
        key = (activity.demands, activity.slots)
        if key not in self._uses:
            unit_of = self.unit_of
            rows = (Use(d.pool, d.amount // unit_of[d.pool], activity.slots + d.tail) for d in activity.demands)
            self._uses[key] = tuple(rows)
        return self._uses[key]

    def _needs_of(self, crew: CrewNeed) -> tuple[Need, ...]:
        if crew not in self._needs:
            self._needs[crew] = tuple((skill, self.able(skill)) for skill, count in crew for _ in range(count))
        return self._needs[crew]

    def able(self, skill: str) -> tuple[int, ...]:
        """Workers with a skill, the least versatile first."""
        if skill not in self._able:
            workers = self.net.workers
            self._able[skill] = tuple(sorted(self._with({skill}), key=lambda w: len(workers[w].skills)))
        return self._able[skill]

    def _with(self, skills: set[str]) -> tuple[int, ...]:
        return tuple(i for i, w in enumerate(self.net.workers) if w.skills & skills)

    def _groups_of(self, crew: CrewNeed) -> tuple[Group, ...]:
        """Groups that have to be looked at: by Hall's theorem enough people in every group is enough.

        A group without a worker that two of its skills share says no more than its parts.
        """
        if crew not in self._groups:
            groups = [g for size in range(1, len(crew) + 1) for g in combinations(crew, size)]
            rows = [(self._with({skill for skill, _ in g}), sum(n for _, n in g)) for g in groups if self._is_linked(g)]
            self._groups[crew] = tuple(rows)
        return self._groups[crew]

    def _is_linked(self, group: CrewNeed) -> bool:
        sets = [set(self._with({skill})) for skill, _ in group]
        linked, left = sets[0], sets[1:]
        while left:
            near = [s for s in left if s & linked]
            if not near:
                return False
            linked, left = linked.union(*near), [s for s in left if not s & linked]
        return True
