"""The proof on the other core: a process of its own that tells bounds as they rise and the best schedule once it is found."""

import base64
import pickle

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.helper import Helper
from scheduler.search.climb import Level


class ClimbProcess(Helper):
    """Climbs from level to level while the search goes on.

    Parameters
    ----------
    net : Network
    below : int
        Weighted days late of the schedule that the search has.
    seed : int

    Attributes
    ----------
    bound : int
        Weighted days late that no schedule is below.
    placed : Placed or None
        A schedule as late as the bound, if one was found.
    """

    def __init__(self, net: Network, below: int, seed: int) -> None:
        self.bound = 0
        self.placed: Placed | None = None
        super().__init__("scheduler.search.climb_worker", (net, below, seed), self._hear, "the proof")

    def _hear(self, line: bytes) -> None:
        words = line.split()
        if words and words[0].isdigit():
            self.bound = max(self.bound, int(words[0]))
        if len(words) > 1:
            self.placed = pickle.loads(base64.b64decode(words[1]))  # what our own program has sent


def line_of(level: Level) -> str:
    """Write a level as a line that :class:`ClimbProcess` hears."""
    found = "" if level.placed is None else base64.b64encode(pickle.dumps(level.placed)).decode()
    return f"{level.bound} {found}".strip()
