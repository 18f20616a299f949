"""Proof from below: the least lateness is looked for level by level, with only the starts that a level leaves.

A model of all starts is slow at 12 units already. What lateness of at most so much leaves of them, by the prices of the bound,
is a small part; where CP-SAT finds nothing in it, there is nothing, and the bound goes up to the next level. The first schedule
that it finds is the best one.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.branch import Brancher
from scheduler.bound.leeway import Leeway
from scheduler.bound.tighten import Tightener, whole_days
from scheduler.model.alike_units import keep_in_order
from scheduler.model.build import build_model
from scheduler.model.lateness import lateness
from scheduler.search.narrow import narrow
from scheduler.search.prove import read_solution

ROUNDS = 60
"""Rounds of the bound before the first level: later ones move the prices of a small shop little."""
CASES = 6
"""Cases that the relaxation is cut into before the first level."""
LEVELS = 3
"""Levels that are looked at together: fewer prove the same again and again, more leave too many starts."""


@dataclass(frozen=True, slots=True)
class Level:
    """What is known after a level: no schedule is below ``bound``; ``placed`` is one that reaches it."""

    bound: int
    placed: Placed | None = None


def climb(net: Network, below: int, seed: int, rounds: int = ROUNDS, deterministic: float | None = None) -> Iterator[Level]:
    """Yield what is known of the least lateness, better each time, until a schedule is found or ``below`` is reached.

    Parameters
    ----------
    net : Network
    below : int
        Weighted days late of a schedule that is known: only better ones are looked for.
    seed : int
    rounds : int
        Rounds of the relaxation before the first level.
    deterministic : float, optional
        Deterministic time of CP-SAT for all levels together; without it there is no limit.
    """
    tightener, bound = Tightener(net), 0
    for bound in _relaxed(tightener, rounds):
        yield Level(bound)
        if bound >= below:
            return
    if not tightener.fits:
        return
    leeway, left = Leeway(tightener), deterministic
    while bound < below:
        most = _most(net, bound, below)
        starts = leeway.starts(most)
        if narrow(net, starts):
            answer = _look(net, starts, (bound, most), seed, left)
            if answer.placed is not None or not answer.ended:
                yield Level(answer.bound, answer.placed)
                return
            left = None if left is None else left - answer.spent
        bound = _next(net, most)
        yield Level(bound)


def _relaxed(tightener: Tightener, rounds: int) -> Iterator[int]:
    """Yield bounds of the relaxation, better each time."""
    while not tightener.done and tightener.rounds < rounds:
        tightener.step()
        yield tightener.bound
    brancher, best = Brancher(tightener), tightener.bound
    for _ in range(CASES):
        if brancher.done or not tightener.fits:
            break
        brancher.step()
        best = max(best, whole_days(tightener.net, brancher.value))
        yield best


def _step(net: Network) -> int:
    return math.gcd(*(due.weight for due in net.dues)) or 1


def _next(net: Network, lateness: int) -> int:
    """Next sum that weighted days late can be."""
    return lateness + _step(net)


def _most(net: Network, bound: int, below: int) -> int:
    """Last level that is looked at together with ``bound``: a few, more where the schedule that is known is far away."""
    step = _step(net)
    levels = max(LEVELS, (below - bound) // step // 4)
    return min(bound + (levels - 1) * step, below - step)


@dataclass(frozen=True, slots=True)
class _Answer:
    """Whether the search came to an end, and what it spent."""

    ended: bool
    bound: int
    placed: Placed | None
    spent: float


def _look(net: Network, starts: list[dict[int, int]], levels: tuple[int, int], seed: int, limit: float | None) -> _Answer:
    """Look for the least lateness within some levels."""
    v = build_model(net, within=starts)
    total = lateness(v)
    v.model.add(total >= levels[0])
    v.model.add(total <= levels[1])
    keep_in_order(v)
    v.model.minimize(total)
    solver = cp_model.CpSolver()
    # one worker: the search has the other core, and of all its strategies the one without linear relaxation proves first
    solver.parameters.num_workers = 1
    solver.parameters.linearization_level = 0
    solver.parameters.cp_model_presolve = False
    solver.parameters.random_seed = seed
    solver.parameters.catch_sigint_signal = False
    if limit is not None:
        solver.parameters.max_deterministic_time = max(1e-3, limit)
    status = solver.solve(v.model)
    ended = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    placed = read_solution(v, solver) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    bound = max(levels[0], round(solver.best_objective_bound)) if placed is not None or not ended else levels[0]
    return _Answer(ended, bound, placed, solver.response_proto.deterministic_time)
