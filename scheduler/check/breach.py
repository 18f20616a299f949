"""What the checker answers: breaches of rules, the goals recomputed, and where the schedule's own figures differ."""

from dataclasses import dataclass, field
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Breach:
    """One breach of one rule.

    Attributes
    ----------
    rule : str
        Name of the rule, a key of :data:`scheduler.rules.RULES`.
    work_ids : tuple of str
        The work that takes part in it.
    at : datetime or None
        When, in the site's zone; None where no moment can be named.
    amount : float or None
        By how much, in the unit of the rule; None where the breach is not a matter of degree.
    says : str
        The breach in words for a person: unit, step, where, when, the figure and the limit.
    """

    rule: str
    work_ids: tuple[str, ...]
    at: datetime | None
    amount: float | None
    says: str


@dataclass(frozen=True, slots=True)
class CheckReport:
    """What the checker found.

    Attributes
    ----------
    breaches : tuple of Breach
        In the order of the rules, then of time.
    goals : dict
        Value of every goal by name, recomputed from shop and schedule.
    mismatched_goals : tuple of str
        Figures of the schedule, goals and delivery dates, that differ from those recomputed, in words.
    """

    breaches: tuple[Breach, ...]
    goals: dict[str, float] = field(default_factory=dict)
    mismatched_goals: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """No rule is broken and every figure of the schedule is true."""
        return not self.breaches and not self.mismatched_goals
