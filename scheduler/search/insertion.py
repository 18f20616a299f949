"""Serial insertion: a unit's whole route goes into the free time of the shop, as early as it can.

A step that cannot start before a maximum wait is up sends the search back to the step where that wait began, which is
moved to the first end that can work (bisection on the curve), and from there forward again.
"""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from scheduler.activities.masks import lowest, span
from scheduler.activities.network import Lag, Network, Path
from scheduler.activities.placed import Placed
from scheduler.search.booking import book, unbook
from scheduler.search.candidates import Fit, first_fit, last_fit, room
from scheduler.search.state import UNPLACED, State

PATIENCE = 400
FIRST_FREE = 0.75
YARD = 0


@dataclass(frozen=True, slots=True)
class Jump:
    """Activity ``at`` must not start before ``slot``."""

    at: int
    slot: int


@dataclass(frozen=True, slots=True)
class Segment:
    """Activities ``first .. last`` in one bay, or one activity in the yard (``stay`` below 0)."""

    first: int
    last: int
    stay: int


class NoRoomError(Exception):
    """A unit's route does not fit into what is free."""


class Inserter:
    """Inserts units into a state and takes them out again.

    Parameters
    ----------
    net : Network
    state : State
    random : Random or None
        With one, a stay goes into one class of bays, mostly the first that is free; without one every class is tried.
    """

    def __init__(self, net: Network, state: State, random: Random | None = None) -> None:
        self.net, self.state, self.random = net, state, random
        self.settled: dict[int, int] = {}
        self.into: list[list[Lag]] = [[] for _ in net.activities]
        for lag in net.lags:
            self.into[lag.then].append(lag)
        self.segments = {path.unit: tuple(self._segments(path)) for path in net.paths}
        self.floor: dict[int, int] = {}
        self.tries = 0

    def _segments(self, path: Path) -> Iterator[Segment]:
        i = self._body(path)
        while i <= path.last:
            k = self.net.activities[i].stay
            last = self.net.stays[k].last if k >= 0 else i
            yield Segment(i, last, k)
            i = last + 1

    @staticmethod
    def _body(path: Path) -> int:
        return path.first + 1 if path.late_pickup else path.first

    def insert(self, path: Path) -> bool:
        """Put a unit in as early as it goes; False, with nothing changed, where it does not fit."""
        self.floor, self.tries = {self._body(path): self._first_pickup_end(path)}, PATIENCE
        self.settled = {}
        try:
            self._insert(path)
        except NoRoomError:
            self.remove(path)
            return False
        return True

    def remove(self, path: Path) -> None:
        """Take a unit out, whole or as far as it is in."""
        if path.unit in self.state.present:
            self._be_present(path, sign=-1)
        for segment in self.segments[path.unit]:
            self._unplace(segment)
        if self.state.start[path.first] != UNPLACED:
            unbook(self.state, path.first, YARD)

    def put(self, path: Path, placed: Placed) -> None:
        """Place a unit as a whole solution has it."""
        for k in path.stays:
            self.state.bay_class[k] = placed.bay_class[k]
        for i in range(path.first, path.last + 1):
            book(self.state, i, Fit(placed.start[i], placed.crew[i], placed.draws[i]), self.class_of(i))
        for segment in self.segments[path.unit]:
            self._occupy(segment, sign=1)
        self._be_present(path, sign=1)

    def _insert(self, path: Path) -> None:
        segments, k = self.segments[path.unit], 0
        while True:
            jump = self._place(path, segments[k]) if k < len(segments) else self._arrive(path)
            if jump is None and k == len(segments):
                return
            if jump is None:
                k += 1
                continue
            self._spend()
            self.floor[jump.at] = max(self.floor.get(jump.at, 0), jump.slot)
            k = self._roll_back(segments, min(k, len(segments) - 1), jump.at)

    def _spend(self) -> None:
        self.tries -= 1
        if self.tries < 0:
            raise NoRoomError

    def _roll_back(self, segments: tuple[Segment, ...], k: int, at: int) -> int:
        self._unplace(segments[k])
        while segments[k].first > at:
            k -= 1
            self._unplace(segments[k])
        return k

    def _first_pickup_end(self, path: Path) -> int:
        if not path.late_pickup:
            return 0
        receive = self.net.activities[path.first]
        mask = receive.starts.get(YARD, 0)
        return lowest(mask) + receive.slots if mask else self.net.slots

    def _place(self, path: Path, segment: Segment) -> Jump | None:
        if segment.stay < 0:
            return self._place_in(path, segment, YARD)
        classes = self.net.stays[segment.stay].classes
        if len(classes) == 1:
            return self._place_in(path, segment, classes[0])
        if segment.stay in self.settled:
            return self._place_in(path, segment, self.settled[segment.stay])
        if self.random is not None and (chosen := self._draw_class(path, segment, classes, self.random)) is not None:
            try:
                jump = self._place_in(path, segment, chosen)
            except NoRoomError:
                return self._place_best(path, segment, classes)
            self.settled[segment.stay] = chosen
            return jump
        return self._place_best(path, segment, classes)

    def _draw_class(self, path: Path, segment: Segment, classes: tuple[int, ...], random: Random) -> int | None:
        """Draw a class: mostly the one that is free first, now and then another."""
        opening = self._by_opening(path, segment, classes)
        if not opening:
            return None
        if random.random() < FIRST_FREE:
            least = opening[0][0]
            return random.choice([c for begin, c in opening if begin == least])
        return random.choice(opening)[1]

    def _place_best(self, path: Path, segment: Segment, classes: tuple[int, ...]) -> Jump | None:
        """Try the classes of bays, the one that is free first first, and keep the one that frees the unit first.

        A class with the climate of one that worked, and free no sooner, is not tried: it would not do better but for
        what shares its air.
        """
        best: tuple[int, int] | None = None
        jumps: list[Jump] = []
        worked: dict[str, int] = {}
        last = -1
        for begin, c in self._by_opening(path, segment, classes):
            if worked.get(self.net.classes[c].climate, begin + 1) <= begin:
                continue
            if last >= 0:
                self._unplace(segment)
            last = -1
            try:
                jump = self._place_in(path, segment, c)
            except NoRoomError:
                continue
            if jump is not None:
                jumps.append(jump)
                continue
            last, end = c, self.state.start[segment.last]
            worked[self.net.classes[c].climate] = begin
            if best is None or end < best[0]:
                best = (end, c)
        return self._settle(path, segment, best, last, jumps)

    def _settle(self, path: Path, segment: Segment, best: tuple[int, int] | None, last: int, jumps: list[Jump]) -> Jump | None:
        if best is not None and best[1] == last:
            return None
        if last >= 0:
            self._unplace(segment)
        if best is not None:
            return self._place_in(path, segment, best[1])
        if not jumps:
            raise NoRoomError
        return min(jumps, key=lambda jump: (-jump.at, jump.slot))

    def _by_opening(self, path: Path, segment: Segment, classes: tuple[int, ...]) -> list[tuple[int, int]]:
        activity = self.net.activities[segment.first]
        earliest = max(self._bounds(path, segment.first)[0], self.floor.get(segment.first, 0))
        found = []
        for c in classes:
            mask = (activity.starts[c] & room(self.state, c)) >> earliest
            if mask:
                found.append((earliest + lowest(mask), c))
        return sorted(found)

    def _place_in(self, path: Path, segment: Segment, bay_class: int) -> Jump | None:
        """Place the steps of a segment one after the other; a jump to before the segment leaves nothing placed."""
        inner: dict[int, int] = {}
        if segment.stay >= 0:
            self.state.bay_class[segment.stay] = bay_class
        i, limit = segment.first, self._limit_at_start(segment, bay_class)
        while i <= segment.last:
            fit, jump = self._find(path, segment, i, bay_class, inner.get(i, 0))
            start, slots = fit.start, self.net.activities[i].slots
            if jump is None and i == segment.first and segment.stay >= 0 and not self._begun(segment):
                limit = self._room_end(bay_class, start)
            if jump is None and start + slots > limit:
                jump = self._after_room(segment, limit)
            if jump is None:
                book(self.state, i, fit, bay_class)
                i += 1
                continue
            self._spend_inside(segment, i)
            if jump.at < segment.first:
                self._back(segment.first, i, bay_class)
                return jump
            inner[jump.at] = max(inner.get(jump.at, 0), jump.slot)
            self._back(jump.at, i, bay_class)
            i = jump.at
        self._occupy(segment, sign=1)
        return None

    def _spend_inside(self, segment: Segment, i: int) -> None:
        self.tries -= 1
        if self.tries < 0:
            self._back(segment.first, i, self.class_of(segment.first))
            raise NoRoomError

    def _after_room(self, segment: Segment, limit: int) -> Jump:
        if self._begun(segment):
            self._back(segment.first, segment.last + 1, self.class_of(segment.first))
            raise NoRoomError
        return Jump(segment.first, limit)

    def _begun(self, segment: Segment) -> bool:
        return segment.stay >= 0 and self.net.stays[segment.stay].since_start

    def _limit_at_start(self, segment: Segment, bay_class: int) -> int:
        return self._room_end(bay_class, 0) if self._begun(segment) else self.net.slots

    def _room_end(self, bay_class: int, start: int) -> int:
        blocked = (self.state.full & ~room(self.state, bay_class)) >> start
        return start + lowest(blocked) if blocked else self.net.slots

    def _find(self, path: Path, segment: Segment, i: int, bay_class: int, floor: int) -> tuple[Fit, Jump | None]:
        earliest, latest, binding = self._bounds(path, i)
        earliest = max(earliest, floor, self.floor.get(i, 0))
        activity = self.net.activities[i]
        opens = segment.stay >= 0 and i == segment.first and not self._begun(segment)
        fit = first_fit(self.state, activity, bay_class, earliest, opens_stay=opens) if earliest < self.net.slots else None
        if fit is None:
            self._back(segment.first, i, bay_class)
            raise NoRoomError
        if fit.start <= latest or binding is None:
            return fit, None
        curve = binding.latest[self.class_of(binding.first)]
        end = bisect_left(curve, fit.start)
        if end > self.net.slots:
            self._back(segment.first, i, bay_class)
            raise NoRoomError
        return fit, Jump(binding.first, end - self.net.activities[binding.first].slots)

    def _bounds(self, path: Path, i: int) -> tuple[int, int, Lag | None]:
        start, activities = self.state.start, self.net.activities
        earliest, latest, binding = 0, self.net.slots, None
        if i > path.first and start[i - 1] != UNPLACED:
            earliest = start[i - 1] + activities[i - 1].slots
        for lag in self.into[i]:
            if start[lag.first] == UNPLACED:
                continue
            end, c = start[lag.first] + activities[lag.first].slots, self.class_of(lag.first)
            if c in lag.earliest:
                earliest = max(earliest, lag.earliest[c][end])
            if c in lag.latest and lag.latest[c][end] < latest:
                latest, binding = lag.latest[c][end], lag
        return earliest, latest, binding

    def class_of(self, i: int) -> int:
        """Bay class of an activity."""
        k = self.net.activities[i].stay
        return self.state.bay_class[k] if k >= 0 else YARD

    def _back(self, first: int, until: int, bay_class: int) -> None:
        for i in range(until - 1, first - 1, -1):
            if self.state.start[i] != UNPLACED:
                unbook(self.state, i, bay_class)

    def _unplace(self, segment: Segment) -> None:
        if self.state.start[segment.first] == UNPLACED:
            return
        if self.state.start[segment.last] != UNPLACED:
            self._occupy(segment, sign=-1)
        self._back(segment.first, segment.last + 1, self.class_of(segment.first))

    def _occupy(self, segment: Segment, sign: int) -> None:
        if segment.stay < 0:
            return
        begin = 0 if self._begun(segment) else self.state.start[segment.first]
        mask = span(begin, self.state.start[segment.last] + self.net.activities[segment.last].slots)
        planes = self.state.bays[self.state.bay_class[segment.stay]]
        (planes.add if sign > 0 else planes.give_back)(mask, 1)

    def _arrive(self, path: Path) -> Jump | None:
        """Pick the unit up as late as it goes, and make sure that the customer can spare it and the yard has room."""
        body = self._body(path)
        if path.late_pickup:
            receive = self.net.activities[path.first]
            latest = self.state.start[body] - receive.slots
            fit = last_fit(self.state, receive, YARD, latest)
            if fit is None:
                return self._pickup_from(path, max(latest + 1, 0))
            book(self.state, path.first, fit, YARD)
        return self._join(path, body)

    def _join(self, path: Path, body: int) -> Jump | None:
        begin = 0 if path.since_start else self.state.start[path.first]
        mask = span(begin, self.state.start[path.last] + self.net.activities[path.last].slots)
        for pool in path.present:
            clash = self.state.pools[pool].blocked(1) & mask
            if clash and path.since_start:
                self._only_history(pool, clash)
            elif clash:
                low = lowest(clash)
                until = low + lowest(~(clash >> low))
                if not path.late_pickup:
                    return Jump(body, until)
                unbook(self.state, path.first, YARD)
                return self._pickup_from(path, until)
        self._be_present(path, sign=1)
        return None

    def _only_history(self, pool: int, clash: int) -> None:
        """Let a unit that is there already overfill a pool only beside others that were: nobody can take that back."""
        for other in self.net.paths:
            if other.unit in self.state.present and pool in other.present and not other.since_start:
                last = self.state.start[other.last] + self.net.activities[other.last].slots
                if clash & span(self.state.start[other.first], last):
                    raise NoRoomError

    def _pickup_from(self, path: Path, slot: int) -> Jump:
        """Send the first step in a bay to after the first pick-up from ``slot`` on."""
        receive = self.net.activities[path.first]
        later = first_fit(self.state, receive, YARD, slot, opens_stay=False) if slot < self.net.slots else None
        if later is None:
            raise NoRoomError
        return Jump(self._body(path), later.start + receive.slots)

    def _be_present(self, path: Path, sign: int) -> None:
        begin = 0 if path.since_start else self.state.start[path.first]
        mask = span(begin, self.state.start[path.last] + self.net.activities[path.last].slots)
        for pool in path.present:
            planes = self.state.pools[pool]
            (planes.add if sign > 0 else planes.give_back)(mask, 1)
        (self.state.present.add if sign > 0 else self.state.present.discard)(path.unit)
