"""What a filled shop leaves: everybody else's work as fixed uses of the resources, so that its size does not matter any more."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import gcd

from scheduler.activities.masks import Masks, below, span, within
from scheduler.activities.network import Lag, Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.extend import UnitPart, with_parts
from scheduler.replan.obstacles import class_at, stay_span
from scheduler.replan.used import NONE_USED, Used
from scheduler.search.insertion import Inserter
from scheduler.search.planes import Planes
from scheduler.search.routes import Routes, units_of_pools
from scheduler.search.state import State
from scheduler.search.steps import Route


class KnownRoutes(Routes):
    """Routes that are worked out once for several searches with the same units, people and waits."""

    def __init__(self, net: Network) -> None:
        super().__init__(net)
        self._found = super().all()

    def all(self) -> tuple[Route, ...]:
        """One route a path."""
        return self._found


class RoomRoutes(Routes):
    """Routes of a few units in a room: their waits are not looked at ahead but where the units come so."""

    def __init__(self, net: Network, room: "Room") -> None:
        super().__init__(net)
        self.unit_of = tuple(gcd(unit, room.pools.get(n, NONE_USED).unit) for n, unit in enumerate(self.unit_of))
        self._found: tuple[Route, ...] | None = None

    def all(self) -> tuple[Route, ...]:
        """One route a path, worked out once."""
        if self._found is None:
            self._found = super().all()
        return self._found

    def starts(self, path: Path, lags: Sequence[Lag]) -> list[Masks]:
        """Starts of a unit's steps from which they end on the axis."""
        del lags
        activities = [self.net.activities[i] for i in range(path.first, path.last + 1)]
        return [within(a.starts, below(self.net.slots - a.slots + 1)) for a in activities]


@dataclass(frozen=True)
class Room:
    """A network without units, and what is in use of it.

    Attributes
    ----------
    net : Network
        Workers are free when they are, sources give what is left; uses are not in its pools and classes.
    shifts : tuple of int
        Slots in which each worker is there, busy or not.
    pools, bays : Mapping of int to Used
        What is in use of pools and of the places of classes of bays, by number; nothing of those that are not there.
    dust, vapour : Mapping of str to Used
        By air space, how many fill it with dust, and with vapour.
    """

    net: Network
    shifts: tuple[int, ...] = ()
    pools: Mapping[int, Used] = field(default_factory=dict)
    bays: Mapping[int, Used] = field(default_factory=dict)
    dust: Mapping[str, Used] = field(default_factory=dict)
    vapour: Mapping[str, Used] = field(default_factory=dict)

    def routes(self, parts: Iterable[UnitPart]) -> RoomRoutes:
        """Work out the routes of units in the room; they hold wherever only capacities differ."""
        return RoomRoutes(with_parts(self.net, parts), self)

    def inserter(self, parts: Iterable[UnitPart], known: RoomRoutes | None = None) -> Inserter:
        """Return an inserter for units of which none is in yet; ``known`` are their routes, where they are worked out already."""
        net = with_parts(self.net, parts)
        routes = known or RoomRoutes(net, self)
        state = State(net, routes)
        for n, unit in enumerate(state.unit_of):
            used = self.pools.get(n, NONE_USED).finer(unit)
            state.pools[n] = Planes(state.pools[n].capacity, state.wide, used.planes)
        for c, used in self.bays.items():
            state.bays[c] = Planes(state.bays[c].capacity, state.wide, used.planes)
        for n, space in enumerate(state.spaces):
            state.dust[n] = Planes(state.dust[n].capacity, state.wide, self.dust.get(space, NONE_USED).planes)
            state.vapour[n] = Planes(state.vapour[n].capacity, state.wide, self.vapour.get(space, NONE_USED).planes)
        return Inserter(net, state, routes=routes)


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


def rooms_without(net: Network, placed: Placed, unit: str) -> Callable[[Path], Room]:
    """Return what gives the room of a solution without a unit and one other, which is worked out once for all others."""
    work = _Taken(net, placed, Room(net, tuple(worker.free for worker in net.workers)))
    for path in net.paths:
        if path.unit != unit:
            work.add(path)

    def without(other: Path) -> Room:
        work.add(other, back=True)
        room = work.room()
        work.add(other)
        return room

    return without


class _Taken:
    def __init__(self, net: Network, placed: Placed, base: Room) -> None:
        self.net, self.placed, self.base = net, placed, base
        self.full = below(net.slots)
        units = units_of_pools(net)
        self.pools = [base.pools.get(n, NONE_USED).finer(unit) for n, unit in enumerate(units)]
        self.bays = [base.bays.get(c, NONE_USED).finer(1) for c in range(len(net.classes))]
        self._fixed()
        self.busy = [0] * len(net.workers)
        self.worn = [dict(worker.respirator_used) for worker in net.workers]
        self.left = [source.gives_ul for source in net.sources]
        self.dust, self.vapour = dict(base.dust), dict(base.vapour)

    def _fixed(self) -> None:
        """Take what is fixed in the network itself, such as a machine that is out of service."""
        taken = [(self.pools, n, pool.taken) for n, pool in enumerate(self.net.pools)]
        taken += [(self.bays, c, group.taken) for c, group in enumerate(self.net.classes)]
        for row, n, uses in taken:
            for start, end, amount in uses:
                row[n] = row[n].plus(span(start, end) & self.full, amount)

    def add(self, path: Path, *, back: bool = False) -> None:
        """Take all that a unit uses, or give it back."""
        net, start = self.net, self.placed.start
        for i in range(path.first, path.last + 1):
            self._step(i, back=back)
        for k in path.stays:
            c = self.placed.bay_class[k]
            self.bays[c] = _changed(self.bays[c], span(*stay_span(net, self.placed, net.stays[k])) & self.full, 1, back=back)
        begin = 0 if path.since_start else start[path.first]
        for pool in path.present:
            self._take(pool, begin, start[path.last] + net.activities[path.last].slots, 1, back=back)

    def _take(self, pool: int, start: int, end: int, amount: int, *, back: bool) -> None:
        self.pools[pool] = _changed(self.pools[pool], span(start, end) & self.full, amount, back=back)

    def _step(self, i: int, *, back: bool) -> None:
        activity, start = self.net.activities[i], self.placed.start[i]
        end, sign = start + activity.slots, -1 if back else 1
        for demand in activity.demands:
            self._take(demand.pool, start, end + demand.tail, demand.amount, back=back)
        if activity.load is not None and self.net.warmer is not None:
            self._take(self.net.warmer, activity.load[start], end, activity.packs, back=back)
        for worker, _ in self.placed.crew[i]:
            self.busy[worker] ^= span(start, end)  # nobody is at two places, so what is taken is taken once
            if activity.respirator:
                for slot in range(start, end):
                    day = self.net.day[slot]
                    self.worn[worker][day] = self.worn[worker].get(day, 0) + sign
        for source, ul in self.placed.draws[i]:
            self.left[source] -= sign * ul
        self._air(i, start, end, back=back)

    def _air(self, i: int, start: int, end: int, *, back: bool) -> None:
        activity, bay_class = self.net.activities[i], class_at(self.net, self.placed, i)
        space = self.net.classes[bay_class].air_space
        if space is None:
            return
        if activity.emits_dust:
            self.dust[space] = _changed(self.dust.get(space, Used(1)), span(start, end), 1, back=back)
        elif activity.emits_vapour:
            clear = min(max(end, activity.clears[bay_class][end]), self.net.slots)
            self.vapour[space] = _changed(self.vapour.get(space, Used(1)), span(start, clear), 1, back=back)

    def room(self) -> Room:
        """Return what is left."""
        net = self.net
        workers = tuple(
            replace(worker, free=worker.free & ~busy, respirator_used=tuple(worn.items()))
            for worker, busy, worn in zip(net.workers, self.busy, self.worn, strict=True)
        )
        sources = tuple(replace(s, gives_ul=max(0, left)) for s, left in zip(net.sources, self.left, strict=True))
        bare_pools = tuple(replace(pool, taken=()) for pool in net.pools)
        bare_bays = tuple(replace(group, taken=()) for group in net.classes)
        empty = replace(net, activities=(), paths=(), stays=(), lags=(), dues=(), rents=())
        left = replace(empty, workers=workers, sources=sources, pools=bare_pools, classes=bare_bays)
        pools, bays = dict(enumerate(self.pools)), dict(enumerate(self.bays))
        return Room(left, self.base.shifts, pools, bays, dict(self.dust), dict(self.vapour))


def _changed(used: Used, mask: int, amount: int, *, back: bool) -> Used:
    return used.minus(mask, amount) if back else used.plus(mask, amount)
