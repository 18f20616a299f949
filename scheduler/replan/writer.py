"""Choices written out on the other core, where writing one out takes seconds: the first while the search goes on."""

import base64
import pickle
from collections.abc import Callable
from contextlib import ExitStack
from queue import Empty, SimpleQueue
from types import TracebackType
from typing import Final, Self

from scheduler.bound.helper import Helper
from scheduler.replan.writing import Basis, Choice, Found, write_out
from scheduler.search.routes import Routes

MANY: Final = 1500
"""Activities above which another process is worth its start: it takes about a second to be there."""
PATIENCE_S: Final = 0.1


class Writer:
    """Writes choices out, here or on the other core.

    Parameters
    ----------
    basis : Basis
    routes : Routes
        Of the network.

    Attributes
    ----------
    other : Helper or None
        Process on the other core, where that is worth its start.
    """

    def __init__(self, basis: Basis, routes: Routes) -> None:
        self.basis, self.routes = basis, routes
        self._answers: SimpleQueue[bytes] = SimpleQueue()
        self._open, self.other = ExitStack(), None
        if beside(basis):
            module, name = "scheduler.replan.writer_worker", "writing a choice on the other core"
            self.other = self._open.enter_context(Helper(module, basis, self._answers.put, name))

    def begin(self, found: Found) -> Callable[[], Choice]:
        """Write a choice, or begin to on the other core; what is returned waits for it."""
        if self.other is None:
            made = self.here(found)
            return lambda: made
        self.other.tell(found)
        return lambda: self._answer(found)

    def here(self, found: Found) -> Choice:
        """Write a choice on this core."""
        return write_out(self.basis, found, self.routes)

    def _answer(self, found: Found) -> Choice:
        """Wait for the next answer of the other core, in the order in which they were begun; what it owes is written here."""
        while self.other is not None:
            working = self.other.working()
            try:
                line = self._answers.get(timeout=PATIENCE_S)
            except Empty:
                if not working:
                    break
                continue
            answer = pickle.loads(base64.b64decode(line))  # what our own program has sent
            if isinstance(answer, Choice):
                return answer
            break
        return self.here(found)

    def __enter__(self) -> Self:
        """Write for as long as a block runs."""
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None) -> None:
        """End the other process with the block."""
        self._open.__exit__(kind, value, trace)


def beside(basis: Basis) -> bool:
    """Whether choices are written out in a process of their own."""
    return basis.settings.cores > 1 and len(basis.built.network.activities) >= MANY
