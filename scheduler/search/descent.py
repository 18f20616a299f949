"""CP-SAT from above: where there are very many levels it makes a schedule better step by step, and raises the bound beside it."""

import queue
import threading
from collections.abc import Iterator

from ortools.sat.python import cp_model

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.model.variables import Variables
from scheduler.search.level import Level, level_model
from scheduler.search.narrow import Starts
from scheduler.search.prove import Effort, give_hint, read_solution, solver_of
from scheduler.search.run_solver import run

UNTIL_STOPPED_S = 1e6
"""The search ends the process that this runs in."""
WORKERS = 8
"""Strategies side by side, on however many cores there are."""


class _Watch(cp_model.CpSolverSolutionCallback):
    """Tells each better schedule as it is found."""

    def __init__(self, v: Variables, told: "queue.Queue[Level | None]") -> None:
        super().__init__()
        self._v, self._told = v, told

    def on_solution_callback(self) -> None:
        self._told.put(Level(0, read_solution(self._v, self)))


def descend(
    net: Network, starts: Starts, levels: tuple[int, int], seed: int, deterministic: float | None, known: Placed | None
) -> Iterator[Level]:
    """Yield better schedules and bounds as they come, until nothing better is left or the effort is spent.

    Parameters
    ----------
    net : Network
    starts : list of dict of int to Mask
        Starts that are left of each activity by bay class.
    levels : (int, int)
        Weighted days late: the bound so far, and the most that is still of interest.
    seed : int
    deterministic : float, optional
        Deterministic time; without it there is no limit, and what is found depends on the machine.
    known : Placed, optional
        A schedule to begin from, though it is just above the levels.
    """
    v, told = level_model(net, starts, levels), queue.Queue[Level | None]()
    if known is not None:
        give_hint(v, known)
    solver = solver_of(Effort(UNTIL_STOPPED_S, seed, WORKERS, deterministic))
    if deterministic is None:
        solver.best_bound_callback = lambda bound: told.put(Level(round(bound)))
    found: list[cp_model.CpSolverStatus] = []

    def work() -> None:
        try:
            found.append(run(solver, v.model, threading.Event(), _Watch(v, told) if deterministic is None else None))
        finally:
            told.put(None)

    threading.Thread(target=work, daemon=True).start()
    bound = levels[0]
    for level in iter(told.get, None):
        bound = max(bound, level.bound)
        yield Level(bound, level.placed)
    yield _last(v, solver, found, levels)


def _last(v: Variables, solver: cp_model.CpSolver, found: list[cp_model.CpSolverStatus], levels: tuple[int, int]) -> Level:
    """What is known once the run is over."""
    status = found[0] if found else cp_model.UNKNOWN
    if status == cp_model.INFEASIBLE:
        return Level(levels[1] + 1)
    placed = read_solution(v, solver) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    return Level(max(levels[0], round(solver.best_objective_bound)), placed)
