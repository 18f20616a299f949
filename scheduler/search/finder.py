"""A process on the other core that finds solutions and tells each as a line."""

import base64
import pickle

from scheduler.activities.placed import Placed
from scheduler.bound.helper import Helper


class Finder(Helper):
    """Runs a module as a program beside the search and keeps the last solution that it has told of.

    Parameters
    ----------
    module : str
        Module to run.
    tell : object
        What it is told.
    name : str
        What it is called when it fails.
    """

    def __init__(self, module: str, tell: object, name: str) -> None:
        self._found: Placed | None = None
        super().__init__(module, tell, self._hear, name)

    def _hear(self, line: bytes) -> None:
        self._found = pickle.loads(base64.b64decode(line))  # what our own program has sent

    def news(self) -> Placed | None:
        """Best solution that it has told of since it was asked last."""
        found, self._found = self._found, None
        return found


def written(placed: Placed) -> str:
    """Write a solution as the line that :class:`Finder` reads."""
    return base64.b64encode(pickle.dumps(placed)).decode()
