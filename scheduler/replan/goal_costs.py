"""What a goal costs the next: the same search once more with two goals that follow each other exchanged."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from scheduler.activities.build import Built, build_network
from scheduler.activities.placed import Placed
from scheduler.activities.reread import reread
from scheduler.pipeline import checked
from scheduler.replan.repair import repair
from scheduler.schedule.schedule import GoalValue, Schedule, Status
from scheduler.search.improve import Better, Improver
from scheduler.search.outcome import Bounds, Outcome
from scheduler.search.settings import Settings
from scheduler.search.value import value_of
from scheduler.shop.shop import Shop

Pair = tuple[str, str]


class NoStandError(Exception):
    """A saved plan cannot stand in the shop any more."""


@dataclass(frozen=True)
class Tried:
    """The saved plan searched on with its goals in some order, checked and measured.

    Attributes
    ----------
    pair : (str, str) or None
        The goal that was put in front, and the one that it follows in the plan; None for the order of the plan.
    goals : tuple of GoalValue
        In the order in which they counted.
    took_s : float
        Searching, writing out and checking.
    """

    pair: Pair | None
    goals: tuple[GoalValue, ...]
    took_s: float

    def of(self, name: str) -> float:
        """Value of a goal."""
        return next(goal.value for goal in self.goals if goal.name == name)


def what_goals_cost(shop: Shop, schedule: Schedule, moves: int, seed: int, told: Callable[[Pair], None]) -> tuple[Tried, ...]:
    """Search on from a saved plan, first with its own order of goals, then with each two that follow each other exchanged.

    Parameters
    ----------
    shop : Shop
        As it stands when the schedule begins.
    schedule : Schedule
    moves : int
        Counted moves for each.
    seed : int
    told : callable
        Told of each pair before it is exchanged.

    Raises
    ------
    NoStandError
        If the saved plan cannot stand in the shop any more.
    RefusedError
        If the checker refuses what was found.
    """
    built = build_network(shop)
    begin = repair(built.network, reread(built, schedule).placed, seed)
    if begin is None:
        msg = "the saved plan does not stand in this shop any more"
        raise NoStandError(msg)
    order = tuple(goal.name for goal in schedule.goals)
    plain, placed = _searched(shop, built, begin.placed, Settings(seed=seed, moves=moves, goals=order), None)
    rows = [plain]
    for first, second in pairwise(order):
        told((second, first))
        swapped = tuple({first: second, second: first}.get(name, name) for name in order)
        settings = Settings(seed=seed, moves=moves, goals=swapped)
        rows.append(_searched(shop, built, placed, settings, (second, first))[0])
    return tuple(rows)


def _searched(shop: Shop, built: Built, begin: Placed, settings: Settings, pair: Pair | None) -> tuple[Tried, Placed]:
    """Search on; where lateness comes first it is held, as the goals after it are what is asked for."""
    began, net, moves = time.perf_counter(), built.network, settings.moves or 1
    improver, better = Improver(net, settings.seed, settings.order), Better(begin, value_of(net, begin))
    improver.adopt(better)
    if settings.order[0] == "lateness":
        improver.aim_past_lateness(better.value.lateness)
    improver.run(lambda made: made / moves, lambda _better: None)
    best = improver.best or better
    nothing = Bounds(0, 0, (0,) * len(net.paths))
    outcome = Outcome(Status.FEASIBLE, best.placed, best.value, nothing, "improvement", None, time.perf_counter() - began)
    made = checked(shop, built, outcome, best.placed, settings)
    return Tried(pair, tuple(made.schedule.goals), time.perf_counter() - began), best.placed
