"""A question for a date as it was typed, and what was found for it."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from scheduler.replan.binding import Bind
from scheduler.replan.quote import Answer
from scheduler.replan.saved_room import SavedRoom


@dataclass(frozen=True)
class Question:
    """What was typed."""

    folder: Path
    lines: tuple[str, ...]
    arrive: datetime | None
    spare: int | None
    told: Path | None
    nothing_moved: bool
    search_s: float
    moves: int | None
    seed: int


@dataclass(frozen=True)
class Found:
    """Answers to a question.

    Attributes
    ----------
    counts : dict of str to int
        Units asked for by the unit that they are like.
    fixed, moving : Answer or None
        With nothing moved, and with moves; None where it does not fit into the plan, or was not asked for.
    day_proven : bool
        Whether with nothing moved every day before the one of ``fixed`` is ruled out.
    binds : tuple of Bind
        What holds up the last unit of the better answer.
    asked_for : datetime or None
        When the units were said to come, which may be before the plan begins.
    """

    saved: SavedRoom
    counts: dict[str, int]
    arrive: datetime
    fixed: Answer | None
    day_proven: bool
    moving: Answer | None
    binds: tuple[Bind, ...]
    spare: int | None
    search_s: float
    asked_for: datetime | None = None

    @property
    def best(self) -> Answer | None:
        """The earlier of the answers."""
        there = [a for a in (self.moving, self.fixed) if a is not None]
        return min(there, key=lambda a: a.last, default=None)
