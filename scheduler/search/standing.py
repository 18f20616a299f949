"""What a search has so far: the best solution, the bounds, and the outcome if it ended now."""

from dataclasses import dataclass, field

from scheduler.activities.network import Network
from scheduler.material.entries import PPM
from scheduler.material.pack import UL_PER_ML
from scheduler.schedule.schedule import Status
from scheduler.search.clock import Clock
from scheduler.search.improve import Better
from scheduler.search.outcome import Bounds, Clash, Journal, Outcome
from scheduler.search.settings import Settings
from scheduler.search.value import GOALS


@dataclass
class Standing:
    """The state of a search as others may see it.

    Attributes
    ----------
    best : Better or None
        Best solution so far.
    first_s : float or None
        Seconds until there was one.
    found_by : str
        How the best one was found.
    """

    net: Network
    settings: Settings
    journal: Journal
    clock: Clock
    bounds: Bounds = field(init=False)
    best: Better | None = None
    first_s: float | None = None
    found_by: str = "insertion"

    def at_bound(self, goal: str) -> bool:
        """Whether a goal of the best schedule cannot be better."""
        return self.best is not None and self.value(self.best, goal) <= self.bounds.of(goal)

    @staticmethod
    def value(better: Better, goal: str) -> int:
        """Value of a goal by its name, in whole units of the search."""
        return int(getattr(better.value, GOALS[goal]))

    def note(self) -> None:
        """Write down where the search stands and tell the listener."""
        first = self.settings.order[0]
        scale = PPM if first == "material" else 1
        objective = self.value(self.best, first) / scale if self.best else None
        self.journal.note(self.clock.passed_s(), objective, self.bounds.of(first) / scale, self.clock.over(), self._so_far)

    def status(self) -> Status:
        """Optimal if the first goal is at its bound, feasible if there is a schedule that can be carried out, else unknown."""
        if self.best is None or self.best.value.missing_ul > 0:
            return Status.UNKNOWN
        return Status.OPTIMAL if self.at_bound(self.settings.order[0]) else Status.FEASIBLE

    def _so_far(self) -> Outcome:
        return self.outcome(self.status())

    def outcome(self, status: Status, clash: Clash | None = None) -> Outcome:
        """What the search has found if it ends now; a schedule that lacks material is none."""
        starved = self.best is not None and self.best.value.missing_ul > 0
        return Outcome(
            status=status,
            placed=self.best.placed if self.best and not starved else None,
            value=self.best.value if self.best else None,
            bounds=self.bounds,
            found_by=self.found_by,
            first_schedule_s=self.first_s,
            search_s=self.clock.passed_s(),
            progress=tuple(self.journal.rows),
            clash=_starves(self.best) if starved and self.best else clash,
        )


def _starves(best: Better) -> Clash:
    """What to say of a schedule whose cartridges do not go round."""
    missing_ml = -(-best.value.missing_ul // UL_PER_ML)
    says = f"the stock is {missing_ml} mL short once every start of a pack has had its purge: order a pack more, or earlier"
    return Clash((), ("cartridge_stock",), says)
