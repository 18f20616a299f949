"""The search as a whole: insertion at once, improvement, CP-SAT where it can prove; the best so far at any moment."""

from dataclasses import dataclass, field, replace

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.schedule.schedule import Status
from scheduler.search.bound import quick_bounds
from scheduler.search.clash import find_clash
from scheduler.search.clock import Clock
from scheduler.search.improve import Better, Improver
from scheduler.search.outcome import Bounds, Clash, Journal, Listener, Outcome
from scheduler.search.prove import Answer, Effort, prove
from scheduler.search.prover import Prover
from scheduler.search.settings import Settings
from scheduler.search.value import value_of

SMALL = 260
"""Activities up to which CP-SAT works on the whole network.

Measured on random shops: 78 activities proven in 1.3 s; 12 units got a better bound after 10 s and no proof in 40 s. Larger ones
were not tried.
"""
STEPS_A_MOVE = 0.002
"""Deterministic time of CP-SAT for each counted move."""


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
    improver: Improver = field(init=False)
    best: Better | None = None
    first_s: float | None = None
    found_by: str = "insertion"
    prover: Prover | None = None
    asked: list[str] = field(default_factory=list)

    def run(self) -> Outcome:
        self.improver = Improver(self.net, self.settings.seed)
        self.best = self.improver.first()
        self.first_s = self.clock.passed_s() if self.best else None
        self.bounds = quick_bounds(self.net)
        self._note()
        if self.best is None:
            return self._without_first()
        self._aim()
        try:
            self.improver.run(self._over, self._better, self._done)
        finally:
            if self.prover is not None:
                self.prover.end()
                self._take(self.prover)
        if self.settings.moves is not None:
            self._prove_in_steps()
        return self._outcome(self._status())

    def _without_first(self) -> Outcome:
        """Insertion found nothing: ask CP-SAT for a schedule, and if there is none, why."""
        effort = Effort(self.clock.left_s() * 0.6, self.settings.seed, self.settings.workers)
        answer = prove(self.net, "lateness", {}, None, effort, self.clock.interrupted)
        if answer.placed is not None:
            self.best, self.found_by = Better(answer.placed, value_of(self.net, answer.placed)), "cp-sat"
            self.first_s = self.clock.passed_s()
            self._raise_lateness(answer.bound)
            return self._outcome(self._status())
        verdict = find_clash(self.net, self.clock, self.settings.workers)
        return self._outcome(Status.INFEASIBLE if verdict.proven else Status.UNKNOWN, verdict.clash)

    def _over(self, moves: int) -> float:
        if self.settings.moves is not None:
            return 1.0 if self.clock.interrupted.is_set() else moves / self.settings.moves
        if moves % 10 == 0:
            self._tend()
            self._note()
        return self.clock.over()

    def _done(self) -> bool:
        """Whether nothing is left to gain."""
        best, bounds = self.best, self.bounds
        return best is not None and best.value.lateness <= bounds.lateness and best.value.packs <= bounds.packs and self._idle()

    def _idle(self) -> bool:
        """Whether the goals after the first two have had their share of the time."""
        return self.clock.over() > 0.5

    def _tend(self) -> None:
        """Look after the prover: take its bounds and answers, give it the next goal."""
        if len(self.net.activities) > SMALL or self.best is None:
            return
        if self.prover is not None:
            if self.prover.goal == "lateness":
                self._raise_lateness(self.prover.bound)
            if self.prover.done():
                self._take(self.prover)
                self.prover = None
            return
        goal = self._next_goal()
        if goal is not None:
            caps = {} if goal == "lateness" else {"lateness": self.best.value.lateness}
            self.prover = Prover(self.net, goal, caps, self.best.placed, self._effort())
            self.prover.start()
            self.asked.append(goal)

    def _effort(self) -> Effort:
        return Effort(self.clock.left_s(), self.settings.seed, self.settings.workers)

    def _next_goal(self) -> str | None:
        if self.best is None:
            return None
        if self.best.value.lateness > self.bounds.lateness:
            return None if "lateness" in self.asked else "lateness"
        return "packs" if "packs" not in self.asked and self.best.value.packs > self.bounds.packs else None

    def _take(self, prover: Prover) -> None:
        if prover.answer is not None:
            self._accept(prover.goal, prover.answer)

    def _accept(self, goal: str, answer: Answer) -> None:
        if goal == "lateness":
            self._raise_lateness(answer.bound)
        elif self.best is not None and self.best.value.lateness <= self.bounds.lateness:
            self.bounds = replace(self.bounds, packs=max(self.bounds.packs, answer.bound))
        if answer.placed is not None:
            self._offer(answer.placed)

    def _offer(self, placed: Placed) -> None:
        found = Better(placed, value_of(self.net, placed))
        if self.best is None or found.value < self.best.value:
            self.best, self.found_by = found, "cp-sat"
            self.improver.adopt(found)
            self._note()

    def _raise_lateness(self, bound: int) -> None:
        self.bounds = replace(self.bounds, lateness=max(self.bounds.lateness, bound))
        self._aim()

    def _prove_in_steps(self) -> None:
        """Prove with counted effort after the counted moves, so that the run can be repeated."""
        if len(self.net.activities) > SMALL or self.best is None or self.settings.moves is None:
            return
        for goal in ("lateness", "packs"):
            if self._next_goal() == goal:
                caps = {} if goal == "lateness" else {"lateness": self.best.value.lateness}
                effort = replace(self._effort(), deterministic=max(1.0, self.settings.moves * STEPS_A_MOVE))
                self._accept(goal, prove(self.net, goal, caps, self.best.placed, effort, self.clock.interrupted))
                self.asked.append(goal)

    def _better(self, better: Better) -> None:
        self.best, self.found_by = better, "improvement"
        self._aim()
        self._note()

    def _aim(self) -> None:
        """Turn to the goals after lateness once that is proven."""
        if self.best is not None and self.best.value.lateness <= self.bounds.lateness:
            self.improver.aim_past_lateness(self.bounds.lateness)

    def _note(self) -> None:
        objective = self.best.value.lateness if self.best else None
        self.journal.note(self.clock.passed_s(), objective, self.bounds.lateness, self.clock.over())

    def _status(self) -> Status:
        if self.best is None:
            return Status.UNKNOWN
        return Status.OPTIMAL if self.best.value.lateness <= self.bounds.lateness else Status.FEASIBLE

    def _outcome(self, status: Status, clash: Clash | None = None) -> Outcome:
        return Outcome(
            status=status,
            placed=self.best.placed if self.best else None,
            value=self.best.value if self.best else None,
            bounds=self.bounds,
            found_by=self.found_by,
            first_schedule_s=self.first_s,
            search_s=self.clock.passed_s(),
            progress=tuple(self.journal.rows),
            clash=clash,
        )
