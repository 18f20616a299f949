"""When to stop: the time limit, the count of moves, or Ctrl-C; the first Ctrl-C asks for the best schedule so far."""

import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


class Clock:
    """Time and interruption of one search.

    Parameters
    ----------
    limit_s : float
    """

    def __init__(self, limit_s: float) -> None:
        self.began = time.perf_counter()
        self.limit_s = limit_s
        self.interrupted = threading.Event()

    def passed_s(self) -> float:
        """Seconds since the search began."""
        return time.perf_counter() - self.began

    def over(self) -> float:
        """Share of the time that is used up; 1 or more means stop."""
        return 1.0 if self.interrupted.is_set() else self.passed_s() / self.limit_s

    def left_s(self) -> float:
        """Seconds left."""
        return 0.0 if self.interrupted.is_set() else max(0.0, self.limit_s - self.passed_s())

    @contextmanager
    def listening(self) -> Iterator[None]:
        """Take the first Ctrl-C as a wish to stop; a second one ends the program as usual."""
        if threading.current_thread() is not threading.main_thread():
            yield
            return
        before = signal.getsignal(signal.SIGINT)

        def stop(_number: int, _frame: FrameType | None) -> None:
            self.interrupted.set()
            signal.signal(signal.SIGINT, before)

        signal.signal(signal.SIGINT, stop)
        try:
            yield
        finally:
            signal.signal(signal.SIGINT, before)
