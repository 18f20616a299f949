"""Where each step of a unit may start, looked at alone: a mask for each step, worked out when it is first asked for.

Steps of one unit run one after the other, so what is free for one does not depend on where the others are. People are looked
at one start at a time at first, and for a whole stretch of the axis once a start will not do.
"""

from scheduler.activities.masks import below, highest
from scheduler.search.crew_choice import crew_starts, is_staffed
from scheduler.search.openings import next_try, open_in, tools_free
from scheduler.search.state import State
from scheduler.search.steps import Route, Step

NOTHING = (-1, 0, -1)
"""No class, asked from and found: a start that is still to be looked for."""


class Starts:
    """Starts of one unit's steps in what is free.

    Parameters
    ----------
    state : State
    route : Route
    in_regular_time : bool
        Whether slots in which everybody is on overtime are left out.
    """

    def __init__(self, state: State, route: Route, *, in_regular_time: bool = False) -> None:
        self.state, self.route, self.in_regular_time = state, route, in_regular_time
        self._anywhere: list[int | None] = [None] * len(route.steps)
        self._open: list[dict[int, int]] = [{} for _ in route.steps]
        self._looked_at = [0 if step.groups else -1 for step in route.steps]
        self._found = [NOTHING] * len(route.steps)

    def equipped(self, step: Step, bay_class: int) -> int:
        """Slots at which a step may start in a class of bays; people count in stretches that were looked at."""
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

    def staffed(self, step: Step, start: int) -> bool:
        """Whether people are there for a step at one of its equipped starts; if not, their stretch is looked at as a whole."""
        hours = self.state.hours
        stretch = hours.of[start]
        if self._looked_at[step.offset] >> stretch & 1:
            return True
        known = hours.crews[stretch].get(step.crew_key)
        if known is None:
            if is_staffed(self.state, step, start):
                return True
            known = crew_starts(self.state, step, stretch)
        elif known >> (start - hours.first[stretch]) & 1:
            return True
        self._look_at(step, stretch, known)
        return False

    def _look_at(self, step: Step, stretch: int, known: int) -> None:
        """Leave only starts of a stretch at which people can be found."""
        hours, offset = self.state.hours, step.offset
        self._looked_at[offset] |= 1 << stretch
        keep = ~((below(hours.width[stretch]) & ~known) << hours.first[stretch])
        anywhere, masks = self._anywhere[offset], self._open[offset]
        if anywhere is not None:
            self._anywhere[offset] = anywhere & keep
        for c in masks:
            masks[c] &= keep

    def looked_at(self, step: Step) -> bool:
        """Whether people were looked at for any stretch."""
        return self._looked_at[step.offset] != 0

    def leave_out(self, step: Step, bay_class: int, start: int, until: int) -> None:
        """Leave out the starts before ``until`` from one on."""
        self._found[step.offset] = NOTHING
        self._open[step.offset][bay_class] &= ~(((1 << (until - start)) - 1) << start)

    def first(self, step: Step, bay_class: int, lower: int) -> int:
        """First start of a step from ``lower`` on; the end of the axis if there is none."""
        in_class, asked, start = self._found[step.offset]
        if in_class != bay_class or not asked <= lower <= start:
            start = self._look_for(step, bay_class, lower)
            self._found[step.offset] = (bay_class, lower, start)
        return start

    def _look_for(self, step: Step, bay_class: int, lower: int) -> int:
        state, offset = self.state, step.offset
        slots, curved = state.net.slots, step.curved
        if lower >= slots:
            return slots
        mask = (self._open[offset].get(bay_class) or self.equipped(step, bay_class)) >> lower
        while mask:
            start = later = lower + (mask & -mask).bit_length() - 1
            if curved:
                later = next_try(state, step, bay_class, start)
            if later == start:
                if self._looked_at[offset] >> state.hours.of[start] & 1 or self.staffed(step, start):
                    return start
                mask, lower = self._open[offset][bay_class] >> start, start
                continue
            mask >>= later - lower
            lower = later
        return slots

    def last(self, step: Step, bay_class: int, upper: int) -> int:
        """Last start of a step up to ``upper``, for one that is not curved; -1 if there is none."""
        while mask := self.equipped(step, bay_class) & below(upper + 1):
            upper = highest(mask)
            if self.staffed(step, upper):
                return upper
        return -1
