"""CP-SAT over a whole network: it improves, and where it can, it proves; what it finds is worked out again outside."""

import threading
from collections.abc import Callable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.model.build import build_model
from scheduler.model.lateness import lateness
from scheduler.model.makespan import makespan
from scheduler.model.variables import Variables
from scheduler.search.run_solver import run
from scheduler.search.stock_choice import draws_of

GOALS = {"lateness": lateness, "makespan": makespan}


@dataclass(frozen=True, slots=True)
class Answer:
    """What CP-SAT says of one goal; ``bound`` holds also where there is no solution yet."""

    status: cp_model.CpSolverStatus
    placed: Placed | None
    objective: int | None
    bound: int

    @property
    def proven(self) -> bool:
        """Whether the objective is optimal."""
        return self.status == cp_model.OPTIMAL


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to try: seconds or, for runs that can be repeated, deterministic time."""

    limit_s: float
    seed: int
    workers: int
    deterministic: float | None = None


def prove(
    net: Network,
    goal: str,
    caps: dict[str, int],
    hint: Placed | None,
    effort: Effort,
    stop: threading.Event,
    on_bound: Callable[[int], None] = lambda _bound: None,
) -> Answer:
    """Minimise one goal with the goals before it held at ``caps``.

    Parameters
    ----------
    net : Network
    goal : str
        ``lateness`` or ``makespan``.
    caps : dict of str to int
        Largest values of other goals.
    hint : Placed or None
        A solution to start from; it is completed to every variable.
    effort : Effort
    stop : threading.Event
        Ends the run early.
    on_bound : callable
        Told of every better bound.
    """
    v = build_model(net)
    for name, cap in caps.items():
        v.model.add(GOALS[name](v) <= cap)
    v.model.minimize(GOALS[goal](v))
    if hint is not None:
        give_hint(v, hint)
    solver = solver_of(effort)
    solver.best_bound_callback = lambda bound: on_bound(round(bound))
    status = run(solver, v.model, stop)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    bound = 0 if status == cp_model.INFEASIBLE else max(0, round(solver.best_objective_bound))
    return Answer(status, read_solution(v, solver) if found else None, round(solver.objective_value) if found else None, bound)


def solver_of(effort: Effort) -> cp_model.CpSolver:
    """Make a solver that tries so hard."""
    solver = cp_model.CpSolver()
    solver.parameters.random_seed = effort.seed
    solver.parameters.num_workers = effort.workers
    solver.parameters.catch_sigint_signal = False
    # holes in domains make probing explode
    solver.parameters.cp_model_probing_level = 0
    if effort.deterministic is not None:
        solver.parameters.max_deterministic_time = effort.deterministic
        # one worker repeats itself anyhow, and crashed with interleaved search (ortools 9.15)
        solver.parameters.interleave_search = effort.workers > 1
    else:
        solver.parameters.max_time_in_seconds = max(0.05, effort.limit_s)
    return solver


def give_hint(v: Variables, placed: Placed) -> None:
    """Hint starts, classes and people; CP-SAT works out what follows from them."""
    for i, start in enumerate(placed.start):
        v.model.add_hint(v.start[i], start)
    for (k, c), literal in v.in_class.items():
        v.model.add_hint(literal, placed.bay_class[k] == c)
    for (i, skill, w), literal in v.by_skill.items():
        v.model.add_hint(literal, (w, skill) in placed.crew[i])


def read_solution(v: Variables, solver: cp_model.CpSolver | cp_model.CpSolverSolutionCallback) -> Placed:
    """Read the solution of the integers that matter."""
    net = v.net
    crew: list[list[tuple[int, str]]] = [[] for _ in net.activities]
    for (i, skill, w), literal in v.by_skill.items():
        if solver.boolean_value(literal):
            crew[i].append((w, skill))
    classes = [next(c for c in stay.classes if solver.boolean_value(v.in_class[k, c])) for k, stay in enumerate(net.stays)]
    start = tuple(solver.value(start) for start in v.start)
    return Placed(start, tuple(classes), tuple(tuple(row) for row in crew), draws_of(net, start))
