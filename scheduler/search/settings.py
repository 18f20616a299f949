"""What a person may set for a search."""

import os
from dataclasses import dataclass, field

from scheduler.search.value import goal_order


@dataclass(frozen=True, slots=True)
class Settings:
    """Settings of a search.

    Attributes
    ----------
    seed : int
        The same seed with ``moves`` set gives the same schedule on any machine.
    time_limit_s : float
        Wall-clock limit of the search.
    moves : int or None
        Count iterations instead of seconds: the search is then reproducible bit for bit.
    workers : int
        Workers of CP-SAT; eight on two cores gave better bounds than two.
    cores : int
        Cores of the machine that the search may use; with one there is no second search.
    goals : tuple of str
        Goals in the order in which they count; those that are not named break ties.
    """

    seed: int = 1
    time_limit_s: float = 30.0
    moves: int | None = None
    workers: int = 8
    cores: int = field(default_factory=lambda: os.cpu_count() or 1)
    goals: tuple[str, ...] = ()

    @property
    def order(self) -> tuple[str, ...]:
        """All goals in the order in which they count."""
        return goal_order(self.goals)
