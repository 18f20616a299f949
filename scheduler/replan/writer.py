"""Choices written out on the other core, where writing one out takes seconds: the first while the search goes on."""

import base64
import pickle
from collections.abc import Callable
from contextlib import ExitStack
from functools import cache
from queue import Empty, SimpleQueue
from types import TracebackType
from typing import Final, Self

from scheduler.activities.placed import Placed
from scheduler.bound.helper import Helper
from scheduler.collection import no_collection
from scheduler.replan.writing import Basis, Choice, Found, same_as, write_out
from scheduler.schedule.schedule import Schedule
from scheduler.search.routes import Routes
from scheduler.search.settings import Settings

MANY: Final = 1500
"""Steps above which another process is worth its start: it takes about a second to be there."""
PATIENCE_S: Final = 0.1


class Writer:
    """Writes choices out, here or on the other core.

    Parameters
    ----------
    beside : bool
        Whether there is a process on the other core: it is begun at once, so that it is there when it is needed.

    Attributes
    ----------
    other : Helper or None
        That process.
    """

    def __init__(self, *, beside: bool) -> None:
        self._answers: SimpleQueue[Choice | None] = SimpleQueue()
        self._begun: list[tuple[Placed, Callable[[], Choice]]] = []
        self._open, self.other = ExitStack(), None
        if beside:
            module, name = "scheduler.replan.writer_worker", "writing a choice on the other core"
            self.other = self._open.enter_context(Helper(module, None, self._hear, name))

    @no_collection()
    def write_from(self, basis: Basis, routes: Routes) -> None:
        """Say what the choices are written out from, with the routes of its network."""
        self.basis, self.routes = basis, routes
        if self.other is not None:
            self.other.tell(basis)

    def begin(self, found: Found) -> Callable[[], Choice]:
        """Write a choice, or begin to on the other core; what is returned waits for it. What is the same is not written twice."""
        for placed, wait in self._begun:
            if placed == found.placed:
                return lambda: same_as(wait(), found)
        wait = cache(self._begin(found))
        self._begun.append((found.placed, wait))
        return wait

    def _begin(self, found: Found) -> Callable[[], Choice]:
        if self.other is None:
            made = write_out(self.basis, found, self.routes)
            return lambda: made
        self.other.tell(found)
        return lambda: self._answer(found)

    def here(self, found: Found) -> Callable[[], Choice]:
        """Write a choice on this core, unless the other is at the same."""
        if any(placed == found.placed for placed, _ in self._begun):
            return self.begin(found)
        made = write_out(self.basis, found, self.routes)
        return lambda: made

    @no_collection()
    def _hear(self, line: bytes) -> None:
        self._answers.put(pickle.loads(base64.b64decode(line)))  # what our own program has sent

    def _answer(self, found: Found) -> Choice:
        """Wait for the next answer of the other core, in the order in which they were begun; what it owes is written here."""
        while self.other is not None:
            working = self.other.working()
            try:
                answer = self._answers.get(timeout=PATIENCE_S)
            except Empty:
                if not working:
                    break
                continue
            if answer is not None:
                return answer
            break
        return write_out(self.basis, found, self.routes)

    def __enter__(self) -> Self:
        """Write for as long as a block runs."""
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None) -> None:
        """End the other process with the block."""
        self._open.__exit__(kind, value, trace)


def is_worth_it(earlier: Schedule, settings: Settings) -> bool:
    """Whether another process is worth its start for what is left of a schedule."""
    return settings.cores > 1 and sum(not work.done for work in earlier.work) >= MANY
