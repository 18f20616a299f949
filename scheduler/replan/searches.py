"""The search of a re-plan: few changes from the repair, the best from there, few changes again on the way back from it."""

import time
from collections.abc import Callable
from dataclasses import dataclass

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.few_changes import FewChanges
from scheduler.replan.frontier import Frontier, Point
from scheduler.replan.price import Price
from scheduler.search.improve import Better, Improver
from scheduler.search.routes import Routes
from scheduler.search.settings import Settings
from scheduler.search.value import ranked, value_of

OUT, BEST, BACK, LAST = 0.5, 0.15, 0.25, 0.1
"""Shares of the search, in the order in which they are spent; by trial."""
FILL = 4.0
"""How many times as long it takes to insert all units by another order as to put them where they are."""
TENTH, THIRD = 1.1, 3
"""What few changes may cost in lateness beside the best, and of how many units that the best moves it moves one."""


@dataclass(frozen=True)
class Reached:
    """Solutions of the few changes and of the best, the frontier between them, and the seconds spent on each."""

    few: Placed
    best: Placed
    frontier: Frontier
    few_s: float
    best_s: float


class Searches:
    """Few changes and best, on one network.

    Parameters
    ----------
    net : Network
    routes : Routes
    told : Placed
    begin : Placed
        A repair.
    price : Price
    settings : Settings
    limit_s : float
        For all together, where moves are not counted.
    moved : callable
        How many units have moved in a solution.
    """

    def __init__(
        self,
        net: Network,
        routes: Routes,
        told: Placed,
        begin: Placed,
        price: Price,
        settings: Settings,
        limit_s: float,
        moved: Callable[[Placed], int],
    ) -> None:
        self.net, self.routes, self.told, self.begin, self.price = net, routes, told, begin, price
        self.settings, self.limit_s, self.moved = settings, limit_s, moved
        self.frontier = Frontier()

    def run(self) -> Reached:
        """Spend the time or the moves."""
        began = time.perf_counter()
        calm = self._few(self.begin, OUT)
        calm_s, began = time.perf_counter() - began, time.perf_counter()
        best = self._improve(self._better(self.begin, calm), BEST)
        best_s, began = time.perf_counter() - began, time.perf_counter()
        self._few(best, BACK)
        calm_s, began = calm_s + time.perf_counter() - began, time.perf_counter()
        best = self._improve(self._better(best, self.frontier.points[-1].placed), LAST)
        return Reached(self._choose(best), best, self.frontier, calm_s, best_s + time.perf_counter() - began)

    def _few(self, begin: Placed, share: float) -> Placed:
        few = FewChanges(self.net, self.told, begin, self.price, self.settings.seed, self.settings.order, self.routes)
        found = few.run(_Course(self.settings, self.limit_s, share, idle=not self.net.paths).over)
        self.frontier.take(few.frontier)
        return found

    def _improve(self, begin: Placed, share: float) -> Placed:
        improver = Improver(self.net, self.settings.seed, self.settings.order, self.routes)
        course, began = _Course(self.settings, self.limit_s, share, idle=not self.net.paths), time.perf_counter()
        improver.adopt(Better(begin, value_of(self.net, begin)))
        fill_s = FILL * (time.perf_counter() - began)
        improver.run(course.over, lambda _better: None, afresh=course.has_time_for(fill_s))
        return begin if improver.best is None else improver.best.placed

    def _better(self, one: Placed, two: Placed) -> Placed:
        order = self.settings.order
        return min((one, two), key=lambda placed: ranked(value_of(self.net, placed), order))

    def _choose(self, best: Placed) -> Placed:
        """Few changes: within a tenth of the best where a third of its moves suffices, else what the price says."""
        late, moved = value_of(self.net, best).lateness, self.moved(best)
        near = [p for p in self.frontier.points if p.lateness <= TENTH * late and THIRD * p.moved <= moved]
        return (min(near, key=_fewest) if near else min(self.frontier.points, key=lambda p: p.energy)).placed


def _fewest(point: Point) -> int:
    return point.moved


class _Course:
    """How much of a share of the search is over, by moves or by the clock."""

    def __init__(self, settings: Settings, limit_s: float, share: float, *, idle: bool) -> None:
        self.began, self.idle = time.perf_counter(), idle  # nothing is left to do where all units are handed back
        self.limit_s = max(0.01, limit_s * share)
        self.moves = None if settings.moves is None else max(1, round(settings.moves * share))

    def has_time_for(self, spent_s: float) -> bool:
        """Whether a tenth of it is enough for something; always where moves are counted."""
        return self.moves is not None or spent_s < 0.1 * self.limit_s

    def over(self, moves: int) -> float:
        """Share that is over after so many moves."""
        if self.idle:
            return 1.0
        return (time.perf_counter() - self.began) / self.limit_s if self.moves is None else moves / self.moves
