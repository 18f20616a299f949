"""What would help: the shop with one thing more, planned on from the same plan, with the same moves and the same seeds."""

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from scheduler.activities.build import Built, build_network
from scheduler.activities.placed import Placed
from scheduler.activities.reread import reread
from scheduler.bound.bounds import tightened
from scheduler.pipeline import NoScheduleError, RefusedError, checked
from scheduler.replan.fitting import Fitting
from scheduler.replan.repair import repair
from scheduler.replan.savings import Helped, Run, rank, sorted_by_savings
from scheduler.replan.variants import Variant, variants
from scheduler.schedule.schedule import Schedule, Status
from scheduler.search.bound import quick_bounds
from scheduler.search.improve import Better, Improver
from scheduler.search.outcome import Bounds, Outcome
from scheduler.search.settings import Settings
from scheduler.search.value import value_of
from scheduler.shop.shop import Shop

RUNS: Final = 2
"""Searches of each shop, with seeds that follow each other: by how much they differ is what luck is worth."""
ROUNDS: Final = 2
"""Rounds of the bound for each shop; five times as many for the shop as it is."""


def what_helps(shop: Shop, schedule: Schedule, moves: int, seed: int, told: Callable[[str], None]) -> tuple[Helped, ...]:
    """Plan the shop as it is and each variant on from one base; as it is first, then by what is saved.

    Parameters
    ----------
    shop : Shop
        As it stands when the schedule begins.
    schedule : Schedule
    moves : int
        Counted moves for the base, and then for each of two searches of each shop.
    seed : int
    told : callable
        Told of each variant before it is planned.
    """
    base = _base(shop, schedule, moves, seed)
    plain = _solved(Variant("as it is", "the shop as it is", shop), base, moves, seed, 5 * ROUNDS)
    rows = []
    for variant in variants(shop):
        told(variant.says)
        rows.append(_solved(variant, base, moves, seed, ROUNDS))
    plain = _in_their_orders(plain, shop, rows)
    return (plain, *sorted_by_savings(plain, rows))


def _base(shop: Shop, schedule: Schedule, moves: int, seed: int) -> Schedule:
    """The saved plan searched on, so that what anybody finds in it with some moves counts for no variant."""
    built = build_network(shop)
    best = _searched(built, schedule, moves, seed, afresh=True)
    if best is None:
        return schedule
    goals, none = tuple(goal.name for goal in schedule.goals), Bounds(0, 0, (0,) * len(built.network.paths))
    outcome = Outcome(Status.FEASIBLE, best.placed, best.value, none, "improvement", None, 0.0)
    try:
        return checked(shop, built, outcome, best.placed, Settings(seed=seed, moves=moves, goals=goals), schedule).schedule
    except (NoScheduleError, RefusedError):  # packs that do not go round once each is named: the saved plan stands
        return schedule


def _solved(variant: Variant, base: Schedule, moves: int, seed: int, rounds: int) -> Helped:
    began = time.perf_counter()
    built = build_network(variant.shop)
    net = built.network
    found = [better for n in range(RUNS) if (better := _searched(built, base, moves, seed + n)) is not None]
    runs = tuple(Run(better.value, _unit_days(built, better.placed)) for better in found)
    row = Helped(variant.name, variant.says, min(runs, key=rank, default=None), 0.0, runs)
    if not found:
        return replace(row, took_s=time.perf_counter() - began)
    best = min(found, key=lambda better: rank(Run(better.value, _unit_days(built, better.placed)))).placed
    order = tuple(path.unit for path in sorted(net.paths, key=lambda path: best.start[path.first]))
    floor = max(quick_bounds(net).lateness, tightened(net, best, rounds))
    return replace(row, took_s=time.perf_counter() - began, order=order, floor=floor)


def _searched(built: Built, begin: Schedule, moves: int, seed: int, *, afresh: bool = False) -> Better | None:
    """Search on from a plan: for less lateness with half of the moves, then with the others for what is saved beside it."""
    repaired = repair(built.network, reread(built, begin).placed, seed)
    if repaired is None:
        return None
    improver, half = Improver(built.network, seed), max(1, moves // 2)
    improver.adopt(Better(repaired.placed, value_of(built.network, repaired.placed)))
    improver.run(lambda made: made / half, lambda _better: None, afresh=afresh)
    if improver.best is not None and moves > half:
        improver.aim_past_lateness(improver.best.value.lateness)
        improver.run(lambda made: (made - half) / (moves - half), lambda _better: None, afresh=False)
    return improver.best


def _in_their_orders(plain: Helped, shop: Shop, rows: Sequence[Helped]) -> Helped:
    """The shop as it is, its units put in by the order of each variant's plan: what that alone gains, the variant does not."""
    began = time.perf_counter()
    built = build_network(shop)
    fitting, best = Fitting(built.network), plain.best
    for row in rows:
        if row.best is not None and best is not None and rank(row.best) < rank(best):
            found = fitting.in_order(row.order)
            if found is not None:
                best = min(best, Run(value_of(built.network, found), _unit_days(built, found)), key=rank)
    return replace(plain, best=best, took_s=plain.took_s + time.perf_counter() - began)


def _unit_days(built: Built, placed: Placed) -> float:
    net, grid = built.network, built.grid
    ends = (grid.end_of(placed.start[path.last] + net.activities[path.last].slots) for path in net.paths)
    return round(sum((end - grid.origin).total_seconds() for end in ends) / 86_400, 2)
