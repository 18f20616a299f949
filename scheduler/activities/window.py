"""A window on a network: a few units are free within some days, all else stays as it was placed."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from scheduler.activities.masks import below, bits, runs, span
from scheduler.activities.network import Activity, BayClass, Due, Lag, Mask, Network, Path, Pool, Source, Stay, Worker
from scheduler.activities.placed import Placed

Taken = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Window:
    """A network of its own for the free units.

    Attributes
    ----------
    net : Network
        What the others hold is taken; in lateness they count as settled.
    activities, stays : tuple of int
        Number in the whole network of each activity and stay of ``net``.
    """

    net: Network
    activities: tuple[int, ...]
    stays: tuple[int, ...]

    def part(self, placed: Placed) -> Placed:
        """Return what a solution of the whole says of the free units."""
        start = tuple(placed.start[i] for i in self.activities)
        crew = tuple(placed.crew[i] for i in self.activities)
        draws = tuple(placed.draws[i] for i in self.activities)
        return Placed(start, tuple(placed.bay_class[k] for k in self.stays), crew, draws)

    def whole(self, placed: Placed, part: Placed) -> Placed:
        """Put a solution of the window into a solution of the whole; draws are left as they were."""
        start, crew, bay_class = list(placed.start), list(placed.crew), list(placed.bay_class)
        for n, i in enumerate(self.activities):
            start[i], crew[i] = part.start[n], part.crew[n]
        for n, k in enumerate(self.stays):
            bay_class[k] = part.bay_class[n]
        return Placed(tuple(start), tuple(bay_class), tuple(crew), placed.draws)


def window(net: Network, placed: Placed, free: Collection[str], first: int, last: int) -> Window:
    """Cut a window out.

    Parameters
    ----------
    net : Network
    placed : Placed
        A whole solution.
    free : collection of str
        Units that may be moved.
    first, last : int
        Their steps may start in these slots and all between.
    """
    return _Cut(net, placed, frozenset(free), span(first, last + 1)).window()


class _Cut:
    def __init__(self, net: Network, placed: Placed, free: frozenset[str], slots: Mask) -> None:
        self.net, self.placed, self.slots = net, placed, slots
        self.free = free
        self.activities = [i for i, a in enumerate(net.activities) if a.unit in free]
        self.fixed = [i for i, a in enumerate(net.activities) if a.unit not in free]
        self.stays = [k for k, stay in enumerate(net.stays) if stay.unit in free]
        self.number = {i: n for n, i in enumerate(self.activities)}
        self.stay_number = {k: n for n, k in enumerate(self.stays)} | {-1: -1}
        self.dust, self.vapour = self._air(dusty=True), self._air(dusty=False)

    def window(self) -> Window:
        net = self.net
        part = replace(
            net,
            activities=tuple(self._activity(net.activities[i]) for i in self.activities),
            paths=tuple(self._path(path) for path in net.paths if path.unit in self.free),
            stays=tuple(self._stay(net.stays[k]) for k in self.stays),
            lags=tuple(self._lag(lag) for lag in net.lags if lag.first in self.number),
            classes=tuple(self._class(c, group) for c, group in enumerate(net.classes)),
            workers=tuple(self._worker(w, worker) for w, worker in enumerate(net.workers)),
            pools=tuple(self._pool(p, pool) for p, pool in enumerate(net.pools)),
            dues=tuple(self._due(due) for due in net.dues),
            sources=tuple(self._source(s, source) for s, source in enumerate(net.sources)),
        )
        return Window(part, tuple(self.activities), tuple(self.stays))

    def _end(self, i: int) -> int:
        return self.placed.start[i] + self.net.activities[i].slots

    def _air(self, *, dusty: bool) -> dict[str, Mask]:
        """Slots in which fixed work fills each air space with dust, or with vapour."""
        found: dict[str, Mask] = {}
        for i in self.fixed:
            activity = self.net.activities[i]
            c = self.placed.bay_class[activity.stay] if activity.stay >= 0 else -1
            space = self.net.classes[c].air_space if c >= 0 else None
            if space and (activity.emits_dust if dusty else activity.emits_vapour):
                until = self._end(i) if dusty else max(self._end(i), activity.clears[c][self._end(i)])
                found[space] = found.get(space, 0) | span(self.placed.start[i], until)
        return found

    def _activity(self, activity: Activity) -> Activity:
        starts = {c: self._starts(activity, c, mask & self.slots) for c, mask in activity.starts.items()}
        windows = {**activity.windows, "pinned_work": starts}
        return replace(activity, stay=self.stay_number[activity.stay], windows=windows, starts=starts)

    def _starts(self, activity: Activity, c: int, mask: Mask) -> Mask:
        space = self.net.classes[c].air_space or ""
        if activity.emits_dust and space in self.vapour:
            mask &= runs(below(self.net.slots) & ~self.vapour[space], activity.slots)
        if activity.emits_vapour and space in self.dust:
            dust, clears = self.dust[space], activity.clears[c]
            for start in bits(mask):
                end = start + activity.slots
                if dust & span(start, max(end, clears[end])):
                    mask ^= 1 << start
        return mask

    def _path(self, path: Path) -> Path:
        stays = tuple(self.stay_number[k] for k in path.stays)
        return replace(path, first=self.number[path.first], last=self.number[path.last], stays=stays)

    def _stay(self, stay: Stay) -> Stay:
        return replace(stay, first=self.number[stay.first], last=self.number[stay.last])

    def _lag(self, lag: Lag) -> Lag:
        return replace(lag, first=self.number[lag.first], then=self.number[lag.then])

    def _class(self, c: int, group: BayClass) -> BayClass:
        return replace(group, taken=(*group.taken, *self._others(c)))

    def _others(self, c: int) -> Iterator[Taken]:
        for k, stay in enumerate(self.net.stays):
            if stay.unit not in self.free and self.placed.bay_class[k] == c:
                yield 0 if stay.since_start else self.placed.start[stay.first], self._end(stay.last), 1

    def _worker(self, w: int, worker: Worker) -> Worker:
        busy, worn = 0, dict(worker.respirator_used)
        for i in self.fixed:
            if any(who == w for who, _ in self.placed.crew[i]):
                slots = range(self.placed.start[i], self._end(i))
                busy |= span(slots.start, slots.stop)
                for slot in slots if self.net.activities[i].respirator else ():
                    worn[self.net.day[slot]] = worn.get(self.net.day[slot], 0) + 1
        return replace(worker, free=worker.free & ~busy, respirator_used=tuple(sorted(worn.items())))

    def _pool(self, p: int, pool: Pool) -> Pool:
        return replace(pool, taken=(*pool.taken, *self._uses(p)))

    def _uses(self, p: int) -> Iterator[Taken]:
        for i in self.fixed:
            start, activity = self.placed.start[i], self.net.activities[i]
            for demand in activity.demands:
                if demand.pool == p:
                    yield start, self._end(i) + demand.tail, demand.amount
            if p == self.net.warmer and activity.load is not None:
                yield activity.load[start], self._end(i), activity.packs
        for path in self.net.paths:
            if path.unit not in self.free and p in path.present:
                yield 0 if path.since_start else self.placed.start[path.first], self._end(path.last), 1

    def _due(self, due: Due) -> Due:
        ends = tuple(due.late[self._end(i)] for i in due.members if i not in self.number)
        return replace(due, members=tuple(self.number[i] for i in due.members if i in self.number), settled=due.settled + ends)

    def _source(self, s: int, source: Source) -> Source:
        drawn = sum(ul for i in self.fixed for t, ul in self.placed.draws[i] if t == s)
        return replace(source, gives_ul=max(0, source.gives_ul - drawn))
