"""The program behind :mod:`scheduler.search.second`: an errand comes in, better solutions go out, a line each."""

import os
import time
from typing import cast

from scheduler.bound.helper import told
from scheduler.search.finder import written
from scheduler.search.improve import Better, Improver
from scheduler.search.second import Errand
from scheduler.search.value import GOALS, value_of

PAUSE_S = 0.5
"""Between two solutions that are told; each is some work for the search to take in."""


class Second:
    """Improves a solution until it is ended.

    Parameters
    ----------
    errand : Errand
    """

    def __init__(self, errand: Errand) -> None:
        self.errand = errand
        self.began = time.perf_counter()
        self.improver = Improver(errand.net, errand.seed, errand.goals)
        self.best = Better(errand.placed, value_of(errand.net, errand.placed))
        self.improver.adopt(self.best)
        if errand.late_enough is not None:
            self.improver.aim_past_lateness(errand.late_enough)
        self.told, self.tell_at = self.best, 0.0

    def run(self) -> None:
        """Go on from the solution until the time is up."""
        self.improver.run(self._over, self._better)

    def _over(self, _moves: int) -> float:
        now = time.perf_counter()
        over = (self.errand.passed_s + now - self.began) / self.errand.limit_s
        if over > self.errand.material_from and self.errand.goals[0] == "lateness" and self.improver.late_enough is None:
            self.improver.adopt(self.best)
            self.improver.aim_past_lateness(int(getattr(self.best.value, GOALS["lateness"])))
        if self.best is not self.told and now >= self.tell_at:
            self.told, self.tell_at = self.best, now + PAUSE_S
            print(written(self.best.placed), flush=True)
        return over

    def _better(self, better: Better) -> None:
        self.best = better


def main() -> None:
    """Read an errand, improve until the search ends."""
    Second(cast("Errand", told())).run()
    os._exit(0)


if __name__ == "__main__":
    main()
