"""The search as a whole: insertion at once, improvement, CP-SAT where it can prove; the best so far at any moment."""

from dataclasses import dataclass, field

from scheduler.activities.network import Network
from scheduler.schedule.schedule import Status
from scheduler.search.bound import quick_bounds
from scheduler.search.clock import Clock
from scheduler.search.improve import Better, Improver
from scheduler.search.outcome import Bounds, Journal, Listener, Outcome
from scheduler.search.settings import Settings


def solve(net: Network, settings: Settings, listener: Listener = lambda _news: None) -> Outcome:
    """Search for a schedule.

    Parameters
    ----------
    net : Network
    settings : Settings
    listener : callable
        Told of every better solution or bound.
    """
    search = _Search(net, settings, Journal(listener), Clock(settings.time_limit_s))
    with search.clock.listening():
        return search.run()


@dataclass
class _Search:
    net: Network
    settings: Settings
    journal: Journal
    clock: Clock
    bounds: Bounds = field(init=False)
    best: Better | None = None
    first_s: float | None = None
    found_by: str = "insertion"

    def run(self) -> Outcome:
        improver = Improver(self.net, self.settings.seed)
        self.best = improver.first()
        self.first_s = self.clock.passed_s() if self.best else None
        self.bounds = quick_bounds(self.net)
        self._note()
        if self.best is None:
            return self._outcome(Status.UNKNOWN)
        improver.run(self._over, self._better)
        return self._outcome(self._status())

    def _over(self, moves: int) -> float:
        if self.settings.moves is not None:
            return 1.0 if self.clock.interrupted.is_set() else moves / self.settings.moves
        if moves % 20 == 0:
            self._note()
        return self.clock.over()

    def _better(self, better: Better) -> None:
        self.best, self.found_by = better, "improvement"
        self._note()

    def _note(self) -> None:
        objective = self.best.value.lateness if self.best else None
        self.journal.note(self.clock.passed_s(), objective, self.bounds.lateness, self.clock.over())

    def _status(self) -> Status:
        if self.best is None:
            return Status.UNKNOWN
        return Status.OPTIMAL if self.best.value.lateness <= self.bounds.lateness else Status.FEASIBLE

    def _outcome(self, status: Status) -> Outcome:
        return Outcome(
            status=status,
            placed=self.best.placed if self.best else None,
            value=self.best.value if self.best else None,
            bounds=self.bounds,
            found_by=self.found_by,
            first_schedule_s=self.first_s,
            search_s=self.clock.passed_s(),
            progress=tuple(self.journal.rows),
        )
