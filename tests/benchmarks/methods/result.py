"""What a method found on a network."""

import time
from dataclasses import dataclass, field

from scheduler.activities.placed import Placed


@dataclass
class Found:
    """A solution, how it came about and what is known of its quality.

    Attributes
    ----------
    progress : list of (float, int)
        Seconds since the method began, weighted days late: every improvement.
    bound : int
        Weighted days late that no schedule can beat, as far as the method knows.
    note : str
        Why there is no solution, or what else there is to say.
    """

    placed: Placed | None = None
    progress: list[tuple[float, int]] = field(default_factory=list)
    bound: int = 0
    note: str = ""
    began: float = field(default_factory=time.perf_counter)

    def passed_s(self) -> float:
        """Seconds since the method began."""
        return time.perf_counter() - self.began

    def better(self, placed: Placed, lateness: int) -> None:
        """Take a solution if it is better than the one at hand."""
        if not self.progress or lateness < self.progress[-1][1]:
            self.placed = placed
            self.progress.append((round(self.passed_s(), 4), lateness))
