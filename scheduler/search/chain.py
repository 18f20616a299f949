"""Give the steps of a unit starts, one after the other, as early as they go; nothing is booked yet.

A step that cannot start before a maximum wait is up sends the
search back to the step where that wait began, which is moved to the first end that can work (bisection on the curve).
"""

from bisect import bisect_left
from collections.abc import Sequence
from typing import NamedTuple

from scheduler.search.starts import Starts
from scheduler.search.state import State
from scheduler.search.steps import YARD, Route, Segment, Step

PATIENCE = 2000


class NoRoomError(Exception):
    """A unit's route does not fit into what is free."""


class Jump(NamedTuple):
    """The step at offset ``at`` must not start before ``slot``."""

    at: int
    slot: int


NO_ROOM = Jump(-1, -1)
"""A segment does not fit into a class of bays at all."""
TOO_LATE = Jump(-2, -1)
"""It fits, but the unit would end later than it may."""


class Chain(Starts):
    """Starts of one unit's steps, and from when on they may be.

    Parameters
    ----------
    state : State
    route : Route
    latest : sequence of int
        Start of each step after which the unit cannot end in time.
    in_regular_time : bool
        Whether slots in which everybody is on overtime are left out.

    Attributes
    ----------
    at, ends : list of int
        Start and end of each step.
    low : list of int
        Slots before which a step must not start; these only ever rise.
    classes : list of int
        Bay class of each step.
    """

    def __init__(self, state: State, route: Route, latest: Sequence[int], *, in_regular_time: bool = False) -> None:
        super().__init__(state, route, in_regular_time=in_regular_time)
        count, self.latest = len(route.steps), latest
        self.at, self.ends, self.low, self.classes = [0] * count, [0] * count, [0] * count, [YARD] * count
        self.tries = PATIENCE

    def spend(self) -> None:
        """Count a try; there are only so many."""
        self.tries -= 1
        if self.tries < 0:
            raise NoRoomError

    def strike(self, offset: int, until: int) -> None:
        """Leave out the start of a step and all up to ``until``; people, packs or its own unit are in its way there."""
        self.leave_out(self.route.steps[offset], self.classes[offset], self.at[offset], until)
        self.spend()

    def bounds(self, step: Step) -> tuple[int, int, int]:
        """First start that order and waits allow, last start, and the end of the step that the last start is due to.

        The last number is -1 where nothing binds.
        """
        offset, ends = step.offset, self.ends
        lower, latest, binding = self.low[offset], self.state.net.slots, -1
        if offset > self.route.body and ends[offset - 1] > lower:
            lower = ends[offset - 1]
        for number, (first, earliest, at_latest) in enumerate(step.waits):
            c, end = self.classes[first], ends[first]
            if c in earliest and earliest[c][end] > lower:
                lower = earliest[c][end]
            if c in at_latest and at_latest[c][end] < latest:
                latest, binding = at_latest[c][end], number
        return lower, latest, binding

    def go(self, segment: Segment, bay_class: int) -> Jump | None:
        """Place the steps of a segment.

        Returns
        -------
        Jump or None
            A step before the segment that has to move, ``NO_ROOM`` if that would not help, ``TOO_LATE`` if the unit cannot
            end in time; None if all are placed.
        """
        first, last, steps, in_time = segment.first, segment.last, self.route.steps, self.latest
        self.classes[first : last + 1] = [bay_class] * (last + 1 - first)
        i, limit = first, self.room_end(bay_class, 0) if segment.begun else self.state.net.slots
        while i <= last:
            step = steps[i]
            lower, latest, binding = self.bounds(step)
            start = self._first_in_room(segment, bay_class, lower) if i == first else self.first(step, bay_class, lower)
            if start >= self.state.net.slots:
                return NO_ROOM
            if start > in_time[i]:
                self.at[i] = start
                return TOO_LATE
            if start > latest:
                back = self._back_for(step, binding, start)
                if back is None or back.at < first:
                    return back or NO_ROOM
                i = self._raise(back)
                continue
            self.at[i], self.ends[i] = start, start + step.slots
            if i == first and segment.stay >= 0 and not segment.begun:
                limit = self.room_end(bay_class, start)
            if self.ends[i] > limit:
                if segment.begun:
                    return NO_ROOM
                self.spend()
                i = self._raise(Jump(first, limit))
                continue
            i += 1
        return None

    def _raise(self, jump: Jump) -> int:
        """Let a step start no earlier than where it has to go; the step itself."""
        self.low[jump.at] = max(self.low[jump.at], jump.slot)
        return jump.at

    def _first_in_room(self, segment: Segment, bay_class: int, lower: int) -> int:
        """First start of a segment's first step from which a place is free for as long as the steps take at least."""
        step = self.route.steps[segment.first]
        if segment.stay < 0 or segment.begun:
            return self.first(step, bay_class, lower)
        while True:
            opening = self.opening(segment, bay_class, lower)
            if opening is None:
                return self.state.net.slots
            start = self.first(step, bay_class, opening[0])
            if start == opening[0]:
                return start
            lower = start

    def opening(self, segment: Segment, bay_class: int, lower: int) -> tuple[int, int] | None:
        """First start of a stay from ``lower`` on that calendar, weather and room allow, and when its last step may start."""
        steps, state, slots = self.route.steps, self.state, self.state.net.slots
        last_slots = steps[segment.last].slots
        mask = (steps[segment.first].starts.get(bay_class, 0) & state.room_for(bay_class, segment.least)) >> lower
        while mask:
            start = lower + (mask & -mask).bit_length() - 1
            last = segment.length.last_start(bay_class, start)
            if last >= slots:
                return None
            until = self.room_end(bay_class, start)
            if last + last_slots <= until:
                return start, last
            mask >>= until - lower
            lower = until
        return None

    def _back_for(self, step: Step, binding: int, start: int) -> Jump | None:
        """Where the step at which a wait began has to be for another to start at ``start``; None for nowhere."""
        self.spend()
        wait = step.waits[binding]
        curve = wait.latest[self.classes[wait.first]]
        end = bisect_left(curve, start)
        if end > self.state.net.slots:
            return None
        return Jump(wait.first, end - self.route.steps[wait.first].slots)

    def room_end(self, bay_class: int, start: int) -> int:
        """First slot from ``start`` on at which no place of a class is free."""
        blocked = self.state.taken_room(bay_class) >> start
        return start + (blocked & -blocked).bit_length() - 1 if blocked else self.state.net.slots
