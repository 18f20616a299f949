"""The proof on the other core: a process of its own that tells bounds as they rise and the best schedule once it is found."""

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.finder import Finder, written
from scheduler.search.level import Level


class ClimbProcess(Finder):
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
        super().__init__("scheduler.search.climb_worker", (net, known, seed), "the proof")

    def _hear(self, line: bytes) -> None:
        words = line.split()
        if words and words[0].isdigit():
            self.bound = max(self.bound, int(words[0]))
        if len(words) > 1:
            super()._hear(words[1])


def line_of(level: Level) -> str:
    """Write a level as a line that :class:`ClimbProcess` hears."""
    found = "" if level.placed is None else written(level.placed)
    return f"{level.bound} {found}".strip()
