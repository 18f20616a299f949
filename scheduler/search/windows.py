"""CP-SAT on a few units at a time, where insertion is at its end: steps of units that all lack time fit between each other.

Insertion puts one unit in as early as it goes, and where several have hardly any slack, each order of them leaves one out.
Measured on shops of 12 units, thirty seconds of one core: 20 -> 14, 12 -> 7, 15 -> 14, 24 -> 24 weighted days late, where
insertion with any number of moves had stopped. On 40 units it found nothing that moves did not find sooner.
"""

from dataclasses import replace
from random import Random

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.activities.window import window
from scheduler.search.level import look
from scheduler.search.narrow import narrow
from scheduler.search.stock_choice import draws_of
from scheduler.search.value import lateness

AFTER, EVERY = 250, 250
"""Moves without a better solution after which windows are opened; counted moves for each window."""
UNITS = (4, 5, 6, 7, 8)
PATIENCE = 200
"""Windows drawn in a row that had been looked at before the search ends."""
STEPS = 1.0
"""Deterministic time for one window; most are done in a tenth of it, about half a second."""
BACK_D, ROOM_D, BLUR_D = 4.0, 2.0, 1.5
"""Days before its end in which a late unit looks for room, days by which a window is wider than its units, and by how much
the choice of units near it is left to chance."""


class Windows:
    """Chooses windows and has them solved.

    Parameters
    ----------
    net : Network
    seed : int
        The same seed and the same calls give the same windows and the same solutions.
    """

    def __init__(self, net: Network, seed: int) -> None:
        self.net, self.seed = net, seed
        self.random = Random(seed)
        self.slots_a_day = max(1.0, net.slots / (net.day[-1] + 1)) if net.day else 1.0
        self.last = {path.last: path for path in net.paths}
        self._closed: set[frozenset[str]] = set()
        self._of: Placed | None = None
        self._drawn_again = 0

    @property
    def exhausted(self) -> bool:
        """Whether hardly a window is left that was not looked at."""
        return self._drawn_again > PATIENCE

    def better(self, placed: Placed) -> Placed | None:
        """Look for less lateness in one window.

        Parameters
        ----------
        placed : Placed
            The best solution so far.

        Returns
        -------
        Placed or None
            None where the window holds nothing better, or none was found with the effort made.
        """
        if placed is not self._of:
            self._of, self._closed, self._drawn_again = placed, set(), 0
        free = self._units(placed)
        names = frozenset(path.unit for path in free)
        if not free or names in self._closed:
            self._drawn_again += 1
            return None
        self._drawn_again = 0
        self._closed.add(names)
        room = int(ROOM_D * self.slots_a_day)
        first = max(0, min(placed.start[path.first] for path in free) - room)
        last = min(self.net.slots, max(placed.start[path.last] for path in free) + room)
        part = window(self.net, placed, names, first, last)
        starts = [dict(activity.starts) for activity in part.net.activities]
        if not narrow(part.net, starts):
            return None
        answer = look(part.net, starts, (0, lateness(self.net, placed.start) - 1), self.seed, STEPS)
        if answer.placed is None:
            return None
        found = part.whole(placed, answer.placed)
        return replace(found, draws=draws_of(self.net, found.start))

    def _units(self, placed: Placed) -> list[Path]:
        """A late unit, and those that are there when it might be."""
        start, activities = placed.start, self.net.activities
        late = [i for due in self.net.dues for i in due.members if due.late[start[i] + activities[i].slots] > 0]
        if not late:
            return []
        lead = self.last[self.random.choice(late)]
        at = start[lead.last] - (1 + self.random.random() * BACK_D) * self.slots_a_day

        def distance(path: Path) -> float:
            middle = (start[path.first] + start[path.last]) / 2
            return abs(middle - at) + self.random.random() * BLUR_D * self.slots_a_day

        others = sorted((path for path in self.net.paths if path is not lead), key=distance)
        return [lead, *others[: self.random.choice(UNITS) - 1]]
