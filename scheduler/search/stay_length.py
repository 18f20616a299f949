"""When a stay is over at the soonest by calendar, weather and waits alone, whatever else is in the shop.

Gaps that are too short for a stay, and bays in which it ends too late, are passed over without laying out a step.
"""

from collections.abc import Mapping, Sequence

from scheduler.activities.network import Curve

Inside = tuple[tuple[int, Mapping[int, Curve]], ...]
Row = tuple[Mapping[int, int], int, Inside]
"""Of a step: its starts by bay class, its slots, and the waits within the stay: from which step, and how long at least."""
Same = tuple[tuple[int, ...], ...]


class StayLength:
    """The least that a stay takes, remembered by class of bays and start; stays that are alike share one.

    Parameters
    ----------
    rows : sequence of Row
        One for each step of the stay.
    slots : int
        Length of the work axis.
    """

    def __init__(self, rows: Sequence[Row], slots: int) -> None:
        self.rows, self.slots = rows, slots
        self._of: dict[int, dict[int, int]] = {}
        self._alike: dict[Same, dict[int, int]] = {}

    def last_start(self, bay_class: int, start: int) -> int:
        """Earliest start of the last step if the first one starts at ``start``; the end of the axis if there is none."""
        known = self._of.get(bay_class)
        if known is None:
            known = self._of[bay_class] = self._alike.setdefault(self._same(bay_class), {})
        found = known.get(start)
        if found is None:
            found = known[start] = self._work_out(bay_class, start)
        return found

    def _same(self, bay_class: int) -> Same:
        """What is one object for classes of bays that make no difference to the stay."""
        rows = self.rows
        return tuple((id(starts.get(bay_class)), *(id(e.get(bay_class)) for _, e in inside)) for starts, _, inside in rows)

    def _work_out(self, bay_class: int, start: int) -> int:
        ends = [start + self.rows[0][1]]
        for starts, slots, inside in self.rows[1:]:
            lower = ends[-1]
            for first, earliest in inside:
                curve = earliest.get(bay_class)
                if curve is not None and curve[ends[first]] > lower:
                    lower = curve[ends[first]]
            later = starts.get(bay_class, 0) >> lower
            if not later:
                return self.slots
            start = lower + (later & -later).bit_length() - 1
            ends.append(start + slots)
        return start
