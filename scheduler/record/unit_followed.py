"""A unit while its events are followed: what has ended, what is under way, and what is said against an event of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from scheduler.record.events import Plain
from scheduler.record.report import Objection
from scheduler.record.rework_now import Rounds
from scheduler.shop.day_words import moment_text
from scheduler.shop.need import Need


@dataclass
class Followed:
    """Where a unit is.

    Attributes
    ----------
    told : sequence of Plain
        All events of its steps that stand, also those that come later.
    ended : dict of str to datetime
        Ends of its finished steps.
    running : (str, datetime) or None
        The step that is under way, and since when.
    """

    unit_id: str
    told: Sequence[Plain]
    rounds: Rounds
    ended: dict[str, datetime]
    running: tuple[str, datetime] | None = None

    @property
    def needs(self) -> dict[str, Need]:
        """Steps that it needs by what is known so far."""
        return {need.name: need for need in self.rounds.needs(self.unit_id)}

    def when(self, moment: datetime) -> str:
        """A moment in words."""
        return moment_text(self.rounds.shop.local(moment))

    def objection(self, step: str, problem: str, cure: str) -> Objection:
        """What is wrong with the report of a step."""
        return Objection("step", f"{self.unit_id}/{step}", problem, cure)
