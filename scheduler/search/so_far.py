"""The best schedule so far, handed out now and then while the search goes on, so that a run that is killed leaves it behind."""

import time
from collections.abc import Callable
from typing import Generic, TypeVar

from scheduler.activities.placed import Placed
from scheduler.search.outcome import Listener, News, Outcome

Made = TypeVar("Made")
PAUSE_S = 5.0
LARGEST_SHARE = 0.05
"""Share of the time that may go into writing out and checking what will be overtaken."""


class SoFar(Generic[Made]):
    """A listener that hands out what is best so far: at once the first time, then when it is better, with a pause between.

    Parameters
    ----------
    make : callable
        Makes what is handed out of an outcome, or None if that is not fit to be seen.
    keep : callable
        Takes what was made.
    listener : callable
        Told of all news before.
    """

    def __init__(self, make: Callable[[Outcome], Made | None], keep: Callable[[Made], None], listener: Listener) -> None:
        self.make, self.keep, self.listener = make, keep, listener
        self.kept: Placed | None = None
        self.next_at = 0.0

    def __call__(self, news: News) -> None:
        """Pass the news on, and hand out the schedule if it is time."""
        self.listener(news)
        began = time.perf_counter()
        if news.so_far is None or began < self.next_at:
            return
        outcome = news.so_far()
        if outcome.placed is None or outcome.placed is self.kept:
            return
        made = self.make(outcome)
        if made is not None:
            self.keep(made)
        self.kept = outcome.placed
        ended = time.perf_counter()
        self.next_at = ended + max(PAUSE_S, (ended - began) / LARGEST_SHARE)
