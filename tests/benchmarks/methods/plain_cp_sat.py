"""The whole model given to CP-SAT at once, without a hint and without anything of our search around it."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from ortools.sat.python import cp_model

from scheduler.activities.network import Network
from scheduler.model.build import build_model
from scheduler.model.lateness import lateness
from scheduler.model.variables import Variables
from scheduler.search.prove import read_solution
from tests.benchmarks.methods.result import Found


class _Watch(cp_model.CpSolverSolutionCallback):
    """Notes when each better solution was found."""

    def __init__(self, found: Found) -> None:
        super().__init__()
        self.found = found

    def on_solution_callback(self) -> None:
        self.found.progress.append((round(self.found.passed_s(), 4), round(self.objective_value)))


def plain_cp_sat(net: Network, limit_s: float, seed: int, workers: int) -> Found:
    """Build and solve within ``limit_s`` seconds; probing is off, with it presolve alone takes that long."""
    found = Found()
    try:
        with _at_most(limit_s):
            v = build_model(net)
            v.model.minimize(lateness(v))
    except TimeoutError:
        found.note = f"the model was not built in {limit_s:g} s"
        return found
    _solve(v, found, max(0.1, limit_s - found.passed_s()), seed, workers)
    return found


@contextmanager
def _at_most(limit_s: float) -> Iterator[None]:
    """Raise TimeoutError in what takes longer."""

    def stop(_number: int, _frame: FrameType | None) -> None:
        raise TimeoutError

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, limit_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def _solve(v: Variables, found: Found, limit_s: float, seed: int, workers: int) -> None:
    solver = cp_model.CpSolver()
    solver.parameters.random_seed = seed
    solver.parameters.num_workers = workers
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.max_time_in_seconds = limit_s
    status = _run(solver, v, found)
    found.note = solver.status_name(status).lower()
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        found.placed = read_solution(v, solver)
    found.bound = max(0, round(solver.best_objective_bound)) if status != cp_model.MODEL_INVALID else 0


def _run(solver: cp_model.CpSolver, v: Variables, found: Found) -> cp_model.CpSolverStatus:
    """Solve; a model on which presolve of ortools 9.15 loses a key of its own is tried again without the steps at fault."""
    try:
        return solver.solve(v.model, _Watch(found))
    except IndexError:
        solver.parameters.symmetry_level = 0
        solver.parameters.keep_all_feasible_solutions_in_presolve = True
        return solver.solve(v.model, _Watch(found))
