"""Latest starts of a unit's steps for it to end by some slot, as far as calendar, weather and waits alone say."""

from bisect import bisect_right
from collections.abc import Sequence

from scheduler.activities.masks import below
from scheduler.search.steps import Route, Step


class Latest:
    """Works out latest starts, and remembers them: ends that an order can afford are few.

    Parameters
    ----------
    slots : int
        Length of the work axis.
    """

    def __init__(self, slots: int) -> None:
        self.slots = slots
        self._known: dict[tuple[int, int], list[int]] = {}

    def starts(self, route: Route, due: int) -> list[int]:
        """Slot for each step after whose start the unit cannot end by ``due``; nothing is said for a pick-up as late as possible.

        What else is in the shop can only make the unit later, so one that starts a step after its slot is too late.
        """
        if due >= self.slots:
            return [self.slots] * len(route.steps)
        found = self._known.get((route.number, due))
        if found is None:
            found = self._known[route.number, due] = self._work_out(route, due)
        return found

    def _work_out(self, route: Route, due: int) -> list[int]:
        last = [self.slots] * len(route.steps)
        until = due
        for step in reversed(route.steps[route.body :]):
            until = min([until, *(_end_before(step, then, last) for then in range(len(step.leads)))])
            until = last[step.offset] = _last_start(step, until - step.slots)
        return last


def _end_before(step: Step, number: int, last: Sequence[int]) -> int:
    """Latest end of a step from which a wait that begins there is over in time, in whichever class of bays is best."""
    then, earliest = step.leads[number]
    curves = {id(curve): curve for curve in map(earliest.get, step.starts)}.values()
    return max((last[then] if curve is None else bisect_right(curve, last[then]) - 1 for curve in curves), default=-1)


def _last_start(step: Step, until: int) -> int:
    """Last start of a step up to a slot in any class of bays, -1 if there is none."""
    masks = {id(mask): mask for mask in step.starts.values()}.values()
    return max(((mask & below(until + 1)).bit_length() - 1 for mask in masks), default=-1)
