"""Give the steps of a unit starts, one after the other, as early as they go; nothing is booked yet.

Steps of one unit run one after the other, so what is free for one does not depend on where the others are: a mask for
each step is worked out once and then only looked up. A step that cannot start before a maximum wait is up sends the
search back to the step where that wait began, which is moved to the first end that can work (bisection on the curve).
"""

from bisect import bisect_left
from typing import NamedTuple

from scheduler.search.crew_choice import crew_starts, is_staffed
from scheduler.search.openings import next_try, open_in, tools_free
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


class Chain:
    """Starts of one unit's steps, and from when on they may be.

    Attributes
    ----------
    at, ends : list of int
        Start and end of each step.
    in_regular_time : bool
        Whether slots in which everybody is on overtime are left out.
    low : list of int
        Slots before which a step must not start; these only ever rise.
    classes : list of int
        Bay class of each step.
    """

    def __init__(self, state: State, route: Route, *, in_regular_time: bool = False) -> None:
        self.state, self.route, self.in_regular_time = state, route, in_regular_time
        count = len(route.steps)
        self.at, self.ends, self.low, self.classes = [0] * count, [0] * count, [0] * count, [YARD] * count
        self._anywhere: list[int | None] = [None] * count
        self._open: list[dict[int, int]] = [{} for _ in route.steps]
        self._staffed = [not step.groups for step in route.steps]
        self.tries = PATIENCE

    def spend(self) -> None:
        """Count a try; there are only so many."""
        self.tries -= 1
        if self.tries < 0:
            raise NoRoomError

    def open(self, step: Step, bay_class: int) -> int:
        """Slots at which a step may start in a class of bays, looked at alone."""
        if not self._staffed[step.offset]:
            self._staff(step)
        return self.equipped(step, bay_class)

    def equipped(self, step: Step, bay_class: int) -> int:
        """The same without a look at people, unless they have been looked at already."""
        masks = self._open[step.offset]
        mask = masks.get(bay_class)
        if mask is None:
            anywhere = self._anywhere[step.offset]
            if anywhere is None:
                anywhere = self._anywhere[step.offset] = self._unstaffed(step)
            mask = masks[bay_class] = open_in(self.state, step, bay_class, anywhere)
        return mask

    def _unstaffed(self, step: Step) -> int:
        """Slots at which tools and air allow a step, without those that take everybody's overtime if that is to be left out."""
        mask = tools_free(self.state, step)
        return mask & self.state.in_regular_time(step.slots) if self.in_regular_time and step.groups else mask

    def _staff(self, step: Step) -> None:
        """Leave only starts at which people can be found."""
        self._staffed[step.offset] = True
        anywhere = self._anywhere[step.offset]
        staffed = crew_starts(self.state, step, self._unstaffed(step) if anywhere is None else anywhere)
        self._anywhere[step.offset], masks = staffed, self._open[step.offset]
        for c in masks:
            masks[c] &= staffed

    def strike(self, offset: int, until: int) -> None:
        """Leave out the start of a step and all up to ``until``; people, packs or its own unit are in its way there."""
        start = self.at[offset]
        self._open[offset][self.classes[offset]] &= ~(((1 << (until - start)) - 1) << start)
        self.spend()

    def first(self, step: Step, bay_class: int, lower: int) -> int:
        """First start of a step from ``lower`` on; the end of the axis if there is none.

        People are looked at one start at a time at first, and all at once when the first one will not do.
        """
        slots = self.state.net.slots
        mask = self.equipped(step, bay_class) >> lower if lower < slots else 0
        while mask:
            start = later = lower + (mask & -mask).bit_length() - 1
            if step.curved:
                later = next_try(self.state, step, bay_class, start)
            if later == start:
                if self._staffed[step.offset] or is_staffed(self.state, step, start):
                    return start
                self._staff(step)
                mask, lower = self.equipped(step, bay_class) >> start, start
                continue
            mask >>= later - lower
            lower = later
        return slots

    def bounds(self, step: Step) -> tuple[int, int, int]:
        """First start that order and waits allow, last start, and the end of the step that the last start is due to.

        The last number is -1 where nothing binds.
        """
        offset, ends, classes = step.offset, self.ends, self.classes
        lower, latest, binding = self.low[offset], self.state.net.slots, -1
        if offset > self.route.body and ends[offset - 1] > lower:
            lower = ends[offset - 1]
        for number, wait in enumerate(step.waits):
            c, end = classes[wait.first], ends[wait.first]
            curve = wait.earliest.get(c)
            if curve is not None and curve[end] > lower:
                lower = curve[end]
            curve = wait.latest.get(c)
            if curve is not None and curve[end] < latest:
                latest, binding = curve[end], number
        return lower, latest, binding

    def go(self, segment: Segment, bay_class: int) -> Jump | None:
        """Place the steps of a segment.

        Returns
        -------
        Jump or None
            A step before the segment that has to move, ``NO_ROOM`` if that would not help; None if all are placed.
        """
        first, last, steps = segment.first, segment.last, self.route.steps
        self.classes[first : last + 1] = [bay_class] * (last + 1 - first)
        i, limit = first, self.room_end(bay_class, 0) if segment.begun else self.state.net.slots
        while i <= last:
            step = steps[i]
            lower, latest, binding = self.bounds(step)
            start = self._first_in_room(segment, bay_class, lower) if i == first else self.first(step, bay_class, lower)
            if start >= self.state.net.slots:
                return NO_ROOM
            if start > latest:
                self.spend()
                back = self._back_for(step, binding, start)
                if back is None or back.at < first:
                    return back or NO_ROOM
                self.low[back.at] = max(self.low[back.at], back.slot)
                i = back.at
                continue
            self.at[i], self.ends[i] = start, start + step.slots
            if i == first and segment.stay >= 0 and not segment.begun:
                limit = self.room_end(bay_class, start)
            if self.ends[i] > limit:
                if segment.begun:
                    return NO_ROOM
                self.spend()
                self.low[first] = max(self.low[first], limit)
                i = first
                continue
            i += 1
        return None

    def _first_in_room(self, segment: Segment, bay_class: int, lower: int) -> int:
        """First start of a segment's first step from which a place is free."""
        step = self.route.steps[segment.first]
        if segment.stay < 0 or segment.begun:
            return self.first(step, bay_class, lower)
        taken = self.state.taken_room(bay_class)
        while True:
            start = self.first(step, bay_class, lower)
            if start >= self.state.net.slots or not taken >> start & 1:
                return start
            blocked = taken >> start
            lower = start + (~blocked & (blocked + 1)).bit_length() - 1

    def _back_for(self, step: Step, binding: int, start: int) -> Jump | None:
        """Where the step at which a wait began has to be for another to start at ``start``; None for nowhere."""
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
