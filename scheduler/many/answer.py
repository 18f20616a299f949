"""What became of one shop among many: a checked plan, or why there is none."""

from dataclasses import dataclass
from enum import StrEnum

from scheduler.check.breach import CheckReport
from scheduler.pipeline import Plan
from scheduler.search.outcome import Outcome
from scheduler.shop.faults import Fault


class End(StrEnum):
    """How the work on a shop ended."""

    PLANNED = "planned"
    BAD_INPUT = "bad input"
    NO_SCHEDULE = "no schedule"
    REFUSED = "refused"
    FAULT = "fault"
    LOST = "lost"
    STOPPED = "stopped"


@dataclass(frozen=True)
class Answer:
    """The answer for one shop.

    Attributes
    ----------
    name : str
        Name of the shop among the many.
    end : End
        ``PLANNED`` has a ``plan``; ``NO_SCHEDULE`` has the ``outcome`` of the search, ``REFUSED`` the ``report`` of the checker,
        ``BAD_INPUT`` the ``faults`` of the shop folder.
    says : str
        Why there is no plan, in a line.
    """

    name: str
    end: End
    says: str = ""
    plan: Plan | None = None
    outcome: Outcome | None = None
    report: CheckReport | None = None
    faults: tuple[Fault, ...] = ()
