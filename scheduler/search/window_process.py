"""Windows in a process of their own, beside the moves of a small shop."""

import base64
import pickle

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.helper import Helper


class WindowProcess(Helper):
    """Improves a solution window by window.

    Parameters
    ----------
    net : Network
    best : Placed
        Solution to begin with.
    seed : int
    """

    def __init__(self, net: Network, best: Placed, seed: int) -> None:
        self._found: Placed | None = None
        super().__init__("scheduler.search.window_worker", (net, best, seed), self._hear, "the search window by window")

    def _hear(self, line: bytes) -> None:
        self._found = pickle.loads(base64.b64decode(line))

    def news(self) -> Placed | None:
        """Best solution that it has told of since it was asked last."""
        found, self._found = self._found, None
        return found
