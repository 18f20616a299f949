"""What a filled shop leaves: everybody else's work as fixed uses of the resources, so that its size does not matter any more."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from scheduler.activities.masks import below, span
from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.extend import UnitPart, with_parts
from scheduler.replan.obstacles import class_at, stay_span
from scheduler.search.insertion import Inserter
from scheduler.search.planes import Planes
from scheduler.search.routes import Routes
from scheduler.search.state import State
from scheduler.search.steps import Route

Uses = Sequence[tuple[int, int, int]]
Taken = list[tuple[int, int, int]]


class KnownRoutes(Routes):
    """Routes that are worked out once for several rooms with the same units, people and waits."""

    def __init__(self, net: Network) -> None:
        super().__init__(net)
        self._found = super().all()

    def all(self) -> tuple[Route, ...]:
        """One route a path."""
        return self._found


@dataclass(frozen=True)
class Room:
    """A network without units in which everything that is planned is taken.

    Attributes
    ----------
    net : Network
        Workers are free when they are, pools and bays carry the uses, sources what is left.
    shifts : tuple of int
        Slots in which each worker is there, busy or not.
    dust, vapour : Mapping of str to int
        By air space the slots in which it has dust, and vapour.
    """

    net: Network
    shifts: tuple[int, ...] = ()
    dust: Mapping[str, int] = field(default_factory=dict)
    vapour: Mapping[str, int] = field(default_factory=dict)
    counted: dict[tuple[int, int, int], tuple[Uses, Planes]] = field(default_factory=dict, compare=False, repr=False)
    """What uses come to, worked out once for all rooms that are made from one another."""

    def inserter(self, parts: Iterable[UnitPart], known: "KnownRoutes | None" = None) -> Inserter:
        """Return an inserter for units of which none is in yet; ``known`` are their routes, where they are worked out already."""
        net = with_parts(self.net, parts)
        routes = known or Routes(net)
        state = self._state(net, routes)
        for n, space in enumerate(state.spaces):
            state.dust[n] = state.dust[n].plus(self.dust.get(space, 0), 1)
            state.vapour[n] = state.vapour[n].plus(self.vapour.get(space, 0), 1)
        return Inserter(net, state, routes=routes)

    def _state(self, net: Network, routes: Routes) -> State:
        """Return the state of a network with what is taken counted once for all rooms."""
        pools = tuple(replace(pool, taken=()) for pool in net.pools)
        classes = tuple(replace(group, taken=()) for group in net.classes)
        state = State(replace(net, pools=pools, classes=classes), routes)
        for n, (pool, unit) in enumerate(zip(net.pools, state.unit_of, strict=True)):
            state.pools[n] = self._planes(pool.taken, unit, state.wide, pool.capacity // unit)
        for c, group in enumerate(net.classes):
            state.bays[c] = self._planes(group.taken, 1, state.wide, group.places)
        return state

    def _planes(self, taken: Uses, unit: int, wide: int, capacity: int) -> Planes:
        key = (id(taken), unit, wide)
        if key not in self.counted:
            planes = Planes(0, wide)
            for start, end, amount in taken:
                planes = planes.plus(span(start, end) & below(self.net.slots), amount // unit)
            self.counted[key] = (taken, planes)
        return Planes(capacity, wide, self.counted[key][1].planes)


def room_around(net: Network, placed: Placed, without: Collection[str] = (), base: Room | None = None) -> Room:
    """Fix all units of a solution but some.

    Parameters
    ----------
    net : Network
    placed : Placed
        Whole but for the units of ``without``.
    without : collection of str
        Units that are taken out.
    base : Room or None
        The room into which the units of ``net`` were put, if there is more in the shop.
    """
    work = _Taken(net, placed, base or Room(net, tuple(worker.free for worker in net.workers)))
    for path in net.paths:
        if path.unit not in without:
            work.add(path)
    return work.room()


class _Taken:
    def __init__(self, net: Network, placed: Placed, base: Room) -> None:
        self.net, self.placed, self.base = net, placed, base
        self.pools: list[Taken] = [list(pool.taken) for pool in net.pools]
        self.bays: list[Taken] = [list(group.taken) for group in net.classes]
        self.busy = [0] * len(net.workers)
        self.worn = [dict(worker.respirator_used) for worker in net.workers]
        self.left = [source.gives_ul for source in net.sources]
        self.dust, self.vapour = dict(base.dust), dict(base.vapour)

    def add(self, path: Path) -> None:
        """Take all that a unit uses."""
        net, start = self.net, self.placed.start
        for i in range(path.first, path.last + 1):
            self._step(i)
        for k in path.stays:
            self.bays[self.placed.bay_class[k]].append((*stay_span(net, self.placed, net.stays[k]), 1))
        begin = 0 if path.since_start else start[path.first]
        for pool in path.present:
            self.pools[pool].append((begin, start[path.last] + net.activities[path.last].slots, 1))

    def _step(self, i: int) -> None:
        activity, start = self.net.activities[i], self.placed.start[i]
        end = start + activity.slots
        for demand in activity.demands:
            self.pools[demand.pool].append((start, end + demand.tail, demand.amount))
        if activity.load is not None and self.net.warmer is not None:
            self.pools[self.net.warmer].append((activity.load[start], end, activity.packs))
        for worker, _ in self.placed.crew[i]:
            self.busy[worker] |= span(start, end)
            if activity.respirator:
                for slot in range(start, end):
                    day = self.net.day[slot]
                    self.worn[worker][day] = self.worn[worker].get(day, 0) + 1
        for source, ul in self.placed.draws[i]:
            self.left[source] -= ul
        self._air(i, start, end)

    def _air(self, i: int, start: int, end: int) -> None:
        activity, bay_class = self.net.activities[i], class_at(self.net, self.placed, i)
        space = self.net.classes[bay_class].air_space
        if space is None:
            return
        if activity.emits_dust:
            self.dust[space] = self.dust.get(space, 0) | span(start, end)
        elif activity.emits_vapour:
            clear = min(max(end, activity.clears[bay_class][end]), self.net.slots)
            self.vapour[space] = self.vapour.get(space, 0) | span(start, clear)

    def room(self) -> Room:
        """Return what is left."""
        net = self.net
        pools = tuple(replace(pool, taken=tuple(taken)) for pool, taken in zip(net.pools, self.pools, strict=True))
        classes = tuple(replace(group, taken=tuple(taken)) for group, taken in zip(net.classes, self.bays, strict=True))
        workers = tuple(
            replace(worker, free=worker.free & ~busy, respirator_used=tuple(worn.items()))
            for worker, busy, worn in zip(net.workers, self.busy, self.worn, strict=True)
        )
        sources = tuple(replace(s, gives_ul=max(0, left)) for s, left in zip(net.sources, self.left, strict=True))
        empty = replace(net, activities=(), paths=(), stays=(), lags=(), dues=(), rents=())
        left = replace(empty, pools=pools, classes=classes, workers=workers, sources=sources)
        return Room(left, self.base.shifts, self.dust, self.vapour)
