"""The search as a whole: insertion at once, improvement, CP-SAT where it can prove; the best so far at any moment."""

import time
from dataclasses import dataclass, field, replace

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.bounds import tightened
from scheduler.collection import no_collection
from scheduler.schedule.schedule import Status
from scheduler.search.bound import quick_bounds
from scheduler.search.clash import clash_of_few, clash_of_orders, clash_of_units
from scheduler.search.clash_at_once import Verdict
from scheduler.search.climb import climb
from scheduler.search.clock import Clock
from scheduler.search.improve import Better, Improver
from scheduler.search.other_core import PROVED, WINDOW, OtherCore
from scheduler.search.outcome import Journal, Listener, Outcome
from scheduler.search.prove import Effort, prove
from scheduler.search.settings import Settings
from scheduler.search.standing import Standing
from scheduler.search.value import ranked, value_of
from scheduler.search.windows import AFTER, EVERY, Windows

SMALL = 260
"""Activities up to which CP-SAT proves the least lateness: 12 units have about 170."""
MODELLED = 2500
"""Activities up to which CP-SAT is asked for a schedule where insertion finds none: a larger model takes minutes to build."""
MATERIAL_FROM = 0.8
"""Share of a run after which the goals after lateness have their turn, proven or not: coats are shifted to use packs up."""
FIRST_TRIES = 2
"""Orders of insertion that are tried before it is asked whether anything goes at all."""
GIVE_WAY_S = 0.03
"""Pause after ten moves of a small shop, most of which find nothing any more, where two other processes are at work."""
STEPS_A_MOVE = 0.002
"""Deterministic time of CP-SAT for each counted move."""
LEAST_STEPS = 0.1
"""Deterministic time that even one move gives it; half a second or so."""

MOVES_A_ROUND, MOST_ROUNDS = 25, 60
"""Counted moves for each round of the bound, at the least, and the rounds after which hardly a bound was seen to rise."""
STEPS_A_ROUND = 36
"""Activities for each of the moves that take as long as a round: on large networks rounds grow faster than moves do."""


def solve(net: Network, settings: Settings, listener: Listener = lambda _news: None) -> Outcome:
    """Search for a schedule.

    Parameters
    ----------
    net : Network
    settings : Settings
    listener : callable
        Told of every better solution or bound.
    """
    search = _Search(net, settings, Journal(settings.order[0], listener), Clock(settings.time_limit_s))
    with search.clock.listening():
        return search.run()


@dataclass
class _Search(Standing):
    improver: Improver = field(init=False)
    other_core: OtherCore | None = None
    better_at: int = 0

    def run(self) -> Outcome:
        with no_collection():
            self.improver = Improver(self.net, self.settings.seed, self.settings.order)
            self.best = self.improver.first(FIRST_TRIES)
            self.first_s = self.clock.passed_s() if self.best else None
            self.bounds = quick_bounds(self.net)
        if self.best is None:
            verdict = clash_of_few(self.net, self.clock, self.settings.workers)
            if verdict.proven:
                return self._no_schedule(verdict)
            self.best = self.improver.first()
            self.first_s = self.clock.passed_s() if self.best else None
        self.note()
        if self.best is None:
            return self._without_first()
        self._aim()
        self._use_the_other_core()
        try:
            self.improver.run(self._over, self._better, self._done)
        finally:
            self._end_helpers()
        if self.settings.moves is not None:
            self._prove_in_steps()
        return self.outcome(self.status())

    def _use_the_other_core(self) -> None:
        """Start to tighten the bound there; with counted moves it is tightened at once, by a counted number of rounds."""
        if self.best is None:
            return
        to_raise = not self.at_bound("lateness")
        if self.settings.moves is None:
            self.other_core = OtherCore(self.net, self.settings, self.clock, MATERIAL_FROM)
            if to_raise and self._is_small():
                self.other_core.climb(self.best.placed)
            elif to_raise:
                self.other_core.raise_bound(self.best.placed)
        elif to_raise:
            self._raise_lateness(tightened(self.net, self.best.placed, self._rounds()))

    def _rounds(self) -> int:
        """Rounds of the bound that go with counted moves, and take no longer than they do."""
        for_one = max(MOVES_A_ROUND, len(self.net.activities) // STEPS_A_ROUND)
        return max(2, min(MOST_ROUNDS, (self.settings.moves or 0) // for_one))

    def _is_small(self) -> bool:
        """Whether CP-SAT can prove the least lateness, and that is what counts first."""
        return len(self.net.activities) <= SMALL and self.settings.order[0] == "lateness"

    def _end_helpers(self) -> None:
        if self.other_core is not None:
            placed = self.other_core.end()
            self._raise_lateness(self.other_core.bound)
            if placed is not None:
                self._take_in(placed, self.other_core.found_by)
            self.note()

    def _without_first(self) -> Outcome:
        """Insertion found nothing: see whether a unit alone is to blame, ask CP-SAT for a schedule, and if there is none, why."""
        verdict = clash_of_units(self.net, self.clock, self.settings.workers)
        if verdict.proven:
            return self._no_schedule(verdict)
        if len(self.net.activities) > MODELLED:
            return self.outcome(Status.UNKNOWN)
        steps = None if self.settings.moves is None else max(LEAST_STEPS, self.settings.moves * STEPS_A_MOVE)
        effort = Effort(self.clock.left_s() * 0.6, self.settings.seed, self.settings.workers, steps)
        answer = prove(self.net, "lateness", {}, None, effort, self.clock.interrupted)
        if answer.placed is not None:
            self.best, self.found_by = Better(answer.placed, value_of(self.net, answer.placed)), "cp-sat"
            self.first_s = self.clock.passed_s()
            self._raise_lateness(answer.bound)
            return self.outcome(self.status())
        return self._no_schedule(clash_of_orders(self.net, self.clock, self.settings.workers))

    def _no_schedule(self, verdict: Verdict) -> Outcome:
        return self.outcome(Status.INFEASIBLE if verdict.proven else Status.UNKNOWN, verdict.clash)

    def _over(self, moves: int) -> float:
        if self.settings.moves is not None:
            over = 1.0 if self.clock.interrupted.is_set() else moves / self.settings.moves
        else:
            if moves % 10 == 0:
                self._tend()
                self.note()
            over = self.clock.over()
        if over > MATERIAL_FROM:
            self._settle()
        return over

    def _settle(self) -> None:
        """Go on from the best schedule for the goals after lateness, though less lateness may be possible and still counts."""
        if self.settings.order[0] == "lateness" and self.best is not None and self.improver.late_enough is None:
            self.improver.adopt(self.best)
            self.improver.aim_past_lateness(self.value(self.best, "lateness"))

    def _done(self) -> bool:
        """Whether nothing is left to gain."""
        return all(self.at_bound(goal) for goal in self.settings.order[:2]) and self._idle()

    def _idle(self) -> bool:
        """Whether the goals after the first two have had their share of the time."""
        return self.clock.over() > 0.5

    def _tend(self) -> None:
        """Take what the other core has found: bounds and better schedules."""
        if self.other_core is not None and self.best is not None:
            if self._is_small() and self.improver.moves > self.better_at + AFTER and not self.at_bound("lateness"):
                self.other_core.open_windows(self.best.placed)
            if self.other_core.is_busy:
                time.sleep(GIVE_WAY_S)
            placed = self.other_core.tend(self.best.placed, self.improver.late_enough)
            self._raise_lateness(self.other_core.bound)
            if placed is not None:
                self._take_in(placed, self.other_core.found_by)

    def _take_in(self, placed: Placed, found_by: str) -> None:
        """Keep what was found elsewhere if it is better; the search goes on from it, at once if it is proven."""
        found = Better(placed, value_of(self.net, placed))
        if self.best is None or ranked(found.value, self.settings.order) < ranked(self.best.value, self.settings.order):
            if found_by in (PROVED, WINDOW):
                self.improver.adopt(found)
            self.improver.best = found
            self._better(found, found_by)

    def _raise_lateness(self, bound: int) -> None:
        if bound > self.bounds.lateness:
            self.bounds = replace(self.bounds, lateness=bound)
            self._aim()

    def _prove_in_steps(self) -> None:
        """Prove with counted effort after the counted moves, so that the run can be repeated."""
        if self.best is None or not self._is_small() or self.at_bound("lateness"):
            return
        self._open_windows()
        if self.at_bound("lateness"):
            return
        effort = max(LEAST_STEPS, (self.settings.moves or 0) * STEPS_A_MOVE)
        late, known = self.value(self.best, "lateness"), self.best.placed
        for level in climb(self.net, late, self.settings.seed, self._rounds(), effort, known):
            self._raise_lateness(level.bound)
            if level.placed is not None:
                self._take_in(level.placed, PROVED)
            if self.clock.interrupted.is_set():
                break

    def _open_windows(self) -> None:
        """Look at a few units at a time, a counted number of times."""
        windows = Windows(self.net, self.settings.seed)
        for _ in range((self.settings.moves or 0) // EVERY):
            if self.best is not None and not self.at_bound("lateness") and not self.clock.interrupted.is_set():
                placed = windows.better(self.best.placed)
                if placed is not None:
                    self._take_in(placed, WINDOW)

    def _better(self, better: Better, found_by: str = "improvement") -> None:
        self.best, self.found_by, self.better_at = better, found_by, self.improver.moves
        self._aim()
        self.note()

    def _aim(self) -> None:
        """Turn to the goals after lateness once that is proven."""
        if self.settings.order[0] == "lateness" and self.at_bound("lateness"):
            self.improver.aim_past_lateness(self.bounds.lateness)
