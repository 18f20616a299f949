"""The room that the units of a solution leave: what each of them takes is taken, or given back."""

from collections.abc import Callable, Collection
from dataclasses import replace

from scheduler.activities.masks import below, span
from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.obstacles import class_at, stay_span
from scheduler.replan.room import Room
from scheduler.replan.used import NONE_USED, Used
from scheduler.search.routes import units_of_pools


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
