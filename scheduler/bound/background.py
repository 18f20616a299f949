"""The bound on the other core: a process of its own that tells each better bound and ends with the search."""

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.helper import Helper


class BoundProcess(Helper):
    """Works on the bound of a network while the search goes on.

    Parameters
    ----------
    net : Network
    placed : Placed or None
        A schedule to learn from.
    """

    def __init__(self, net: Network, placed: Placed | None) -> None:
        self.bound = 0
        super().__init__("scheduler.bound.worker", (net, placed), self._hear, "the bound")

    def _hear(self, line: bytes) -> None:
        if line.isdigit():
            self.bound = max(self.bound, int(line))
