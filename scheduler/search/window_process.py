"""Windows in a process of their own, beside the moves of a small shop."""

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.finder import Finder


class WindowProcess(Finder):
    """Improves a solution window by window.

    Parameters
    ----------
    net : Network
    best : Placed
        Solution to begin with.
    seed : int
    """

    def __init__(self, net: Network, best: Placed, seed: int) -> None:
        super().__init__("scheduler.search.window_worker", (net, best, seed), "the search window by window")
