"""What is in use when: the picture that insertion reads and writes, with exact undo.

Counters and free hours are never changed but replaced. The trail remembers what they replaced, and going back puts that in again.
"""

from collections.abc import Sequence
from typing import Any, NamedTuple, TypeVar

from scheduler.activities.masks import below, runs, span
from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.search.holding import Holding
from scheduler.search.hours import Hours
from scheduler.search.planes import Planes
from scheduler.search.routes import Routes

UNPLACED = -1
VERSATILE = 1 << 40
T = TypeVar("T")


class Room(NamedTuple):
    """What the stays in a class of bays leave: slots without a free place, and those from which one is free for some time."""

    places: Planes | None
    taken: int
    free_for: dict[int, int]


class State:
    """A partial solution of a network and the resources that it takes.

    Attributes
    ----------
    start, bay_class, crew, draws : list
        As in :class:`~scheduler.activities.placed.Placed`; ``UNPLACED`` where nothing is placed.
    hours : Hours
        Free time of all workers.
    rank : list of int
        Order in which workers are chosen: the least versatile first, then the least loaded.
    pools, bays, dust, vapour : list of Planes
        Use of the pools (in ``unit_of`` each), of the places of each class of bays, and the number of units that fill
        each air space with dust and with vapour.
    holdings : list of Holding or None
        What each path takes.
    overtime : list of int
        One number: slots of overtime.
    """

    def __init__(self, net: Network, routes: Routes | None = None) -> None:
        routes = routes or Routes(net)
        self.net = net
        self.full = below(net.slots)
        self.unit_of = routes.unit_of
        tail = max((d.tail for a in net.activities for d in a.demands), default=0)
        self.wide = below(net.slots + tail)
        self.start = [UNPLACED] * len(net.activities)
        self.bay_class = [UNPLACED] * len(net.stays)
        self.crew: list[tuple[tuple[int, str], ...]] = [()] * len(net.activities)
        self.draws: list[tuple[tuple[int, int], ...]] = [()] * len(net.activities)
        people = net.workers
        worn = [dict(w.respirator_used) for w in people]
        longest = max((a.slots for a in net.activities), default=0)
        self.hours = Hours([w.free for w in people], [w.respirator_slots for w in people], worn, net.day, longest)
        self.rank = [len(w.skills) * VERSATILE for w in net.workers]
        self.overtime = [0]
        self.left_ul = [s.gives_ul for s in net.sources]
        self.pools = [self._counter(p.capacity, p.taken, unit) for p, unit in zip(net.pools, self.unit_of, strict=True)]
        self.bays = [self._counter(c.places, c.taken, 1) for c in net.classes]
        self.spaces = sorted({c.air_space for c in net.classes if c.air_space})
        self.space_of = [self.spaces.index(c.air_space) if c.air_space else -1 for c in net.classes]
        self.dust = [Planes(len(net.paths), self.wide) for _ in self.spaces]
        self.vapour = [Planes(len(net.paths), self.wide) for _ in self.spaces]
        self._rooms = [Room(None, 0, {})] * len(net.classes)
        self.shut = [self.full & ~c.free for c in net.classes]
        self.holdings: list[Holding | None] = [None] * len(net.paths)
        self.trail: list[tuple[Any, Any, Any]] = []
        self.has_overtime = any(net.overtime.values())
        self._regular = self.full & ~self._only_overtime()
        self._regular_runs: dict[int, int] = {}

    def _counter(self, capacity: int, taken: Sequence[tuple[int, int, int]], unit: int) -> Planes:
        planes = Planes(capacity // unit, self.wide)
        for start, end, amount in taken:
            planes = planes.plus(span(start, end) & self.full, amount // unit)
        return planes

    def _only_overtime(self) -> int:
        """Slots in which whoever is there is on overtime."""
        paid = regular = 0
        for w, worker in enumerate(self.net.workers):
            if worker.is_person:
                extra = self.net.overtime.get(w, 0)
                paid, regular = paid | extra, regular | worker.free & ~extra
        return paid & ~regular

    def overtime_in(self, worker: int, start: int, end: int) -> int:
        """Slots of a stretch in which a worker is on overtime."""
        return (self.net.overtime.get(worker, 0) >> start & below(end - start)).bit_count()

    def in_regular_time(self, length: int) -> int:
        """Slots from which a step of a length takes nobody's overtime for want of others."""
        found = self._regular_runs.get(length)
        if found is None:
            found = self._regular_runs[length] = runs(self._regular, length)
        return found

    @property
    def work(self) -> list[int]:
        """Slots that each worker is booked for."""
        return [rank % VERSATILE for rank in self.rank]

    @property
    def present(self) -> set[str]:
        """Units that are placed."""
        return {path.unit for path, holding in zip(self.net.paths, self.holdings, strict=True) if holding is not None}

    def has(self, path: Path, placed: Placed) -> bool:
        """Whether a unit is in, with all that it takes where a solution has it."""
        here = slice(path.first, path.last + 1)
        return (
            self.start[here] == list(placed.start[here])
            and self.crew[here] == list(placed.crew[here])
            and self.draws[here] == list(placed.draws[here])
            and all(self.bay_class[k] == placed.bay_class[k] for k in path.stays)
        )

    def put(self, row: list[T] | dict[int, T], key: int, value: T) -> None:
        """Replace an entry of one of the lists, or one that is there in a table."""
        self.trail.append((row, key, row[key]))
        row[key] = value

    def put_all(self, row: list[T], here: slice, values: list[T]) -> None:
        """Replace a slice of one of the lists by as many entries."""
        self.trail.append((row, here, row[here]))
        row[here] = values

    def taken_room(self, bay_class: int) -> int:
        """Slots in which no bay of the class has a free place, or it is shut."""
        room = self._rooms[bay_class]
        if room.places is not self.bays[bay_class]:
            room = self._look_at_room(bay_class)
        return room.taken

    def room_for(self, bay_class: int, slots: int) -> int:
        """Slots from which a place of the class is free for so many slots."""
        room = self._rooms[bay_class]
        if room.places is not self.bays[bay_class]:
            room = self._look_at_room(bay_class)
        found = room.free_for.get(slots)
        if found is None:
            found = room.free_for[slots] = runs(self.full & ~room.taken, slots)
        return found

    def _look_at_room(self, bay_class: int) -> Room:
        places = self.bays[bay_class]
        room = self._rooms[bay_class] = Room(places, self.shut[bay_class] | places.blocked(1), {})
        return room

    def blocked(self, pool: int, amount: int) -> int:
        """Slots in which ``amount`` more of a pool does not fit, in the network's own unit."""
        return self.pools[pool].blocked(-(-amount // self.unit_of[pool]))

    def placed(self) -> Placed:
        """Return the solution as it stands."""
        return Placed(tuple(self.start), tuple(self.bay_class), tuple(self.crew), tuple(self.draws))

    def save(self) -> int:
        """Mark to go back to with :meth:`restore`; later marks end with it."""
        return len(self.trail)

    def restore(self, mark: int) -> None:
        """Go back to a mark."""
        trail = self.trail
        while len(trail) > mark:
            row, key, old = trail.pop()
            row[key] = old

    def settle(self) -> None:
        """Forget all marks: there is no way back from here."""
        self.trail.clear()
