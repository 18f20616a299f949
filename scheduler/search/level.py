"""CP-SAT at one level: a schedule of at most so many weighted days late, with the starts that this leaves, if there is one."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.model.alike_units import keep_in_order
from scheduler.model.build import build_model
from scheduler.model.lateness import lateness
from scheduler.model.variables import Variables
from scheduler.search.narrow import Starts
from scheduler.search.prove import read_solution


@dataclass(frozen=True, slots=True)
class Level:
    """What is known: no schedule is below ``bound``; ``placed`` is the best schedule so far, if there is a new one."""

    bound: int
    placed: Placed | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """Whether the search came to an end, and what it spent."""

    ended: bool
    bound: int
    placed: Placed | None
    spent: float


def level_model(net: Network, starts: Starts, levels: tuple[int, int]) -> Variables:
    """Build the model of some levels: lateness from the first to the last of them, as little as can be."""
    v = build_model(net, within=starts)
    total = lateness(v)
    v.model.add(total >= levels[0])
    v.model.add(total <= levels[1])
    keep_in_order(v)
    v.model.minimize(total)
    return v


def look(net: Network, starts: Starts, levels: tuple[int, int], seed: int, limit: float | None) -> Answer:
    """Look for the least lateness within some levels."""
    v = level_model(net, starts, levels)
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
    return Answer(ended, bound, placed, solver.response_proto.deterministic_time)
