"""The proof on the other core: a process of its own that tells bounds as they rise and the best schedule once it is found."""

import base64
import pickle

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.helper import Helper
from scheduler.search.level import Level


class ClimbProcess(Helper):
    """Climbs from level to level while the search goes on.

    Parameters
    ----------
    net : Network
    known : Placed
        The schedule that the search has.
    seed : int

    Attributes
    ----------
    bound : int
        Weighted days late that no schedule is below.
    """

    def __init__(self, net: Network, known: Placed, seed: int) -> None:
        self.bound = 0
        self._found: Placed | None = None
        super().__init__("scheduler.search.climb_worker", (net, known, seed), self._hear, "the proof")

    def _hear(self, line: bytes) -> None:
        words = line.split()
        if words and words[0].isdigit():
            self.bound = max(self.bound, int(words[0]))
        if len(words) > 1:
            self._found = pickle.loads(base64.b64decode(words[1]))  # what our own program has sent

    def news(self) -> Placed | None:
        """Best schedule that it has told of since it was asked last."""
        found, self._found = self._found, None
        return found


def line_of(level: Level) -> str:
    """Write a level as a line that :class:`ClimbProcess` hears."""
    found = "" if level.placed is None else base64.b64encode(pickle.dumps(level.placed)).decode()
    return f"{level.bound} {found}".strip()
