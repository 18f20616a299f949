"""Time limit, Ctrl-C and faults of the solver: the best so far is never lost."""

import os
import signal
import threading
import time

import pytest
from ortools.sat.python import cp_model
from random_shop import random_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.schedule.schedule import Status
from scheduler.search import run_solver
from scheduler.search.clock import Clock
from scheduler.search.outcome import News
from scheduler.search.run_solver import run
from scheduler.search.settings import Settings
from scheduler.search.solve import solve


@pytest.fixture(scope="module")
def net() -> Network:
    """A network that takes longer than a second to be proven."""
    return build_network(random_shop(8, 8)).network


def test_the_time_limit_is_kept_and_the_best_so_far_given(net: Network) -> None:
    """One second of search ends soon after it, with a schedule."""
    began = time.perf_counter()
    outcome = solve(net, Settings(time_limit_s=1.0, workers=2))
    assert outcome.placed is not None
    assert outcome.status in (Status.OPTIMAL, Status.FEASIBLE)
    assert time.perf_counter() - began < 8.0


def test_the_first_interrupt_ends_the_search_with_a_schedule_and_hands_the_signal_back(net: Network) -> None:
    """A real SIGINT from another thread, as Ctrl-C sends it."""
    before = signal.getsignal(signal.SIGINT)
    timer = threading.Timer(0.5, os.kill, (os.getpid(), signal.SIGINT))
    timer.start()
    began = time.perf_counter()
    outcome = solve(net, Settings(time_limit_s=120.0, workers=2))
    timer.join()
    assert outcome.placed is not None
    assert time.perf_counter() - began < 30.0
    assert signal.getsignal(signal.SIGINT) is before


def test_progress_only_improves(net: Network) -> None:
    """What a listener hears: objectives never rise, bounds never fall, and none is below its bound."""
    news: list[News] = []
    outcome = solve(net, Settings(time_limit_s=1.0, workers=2), news.append)
    objectives = [n.objective for n in news if n.objective is not None]
    assert objectives == sorted(objectives, reverse=True)
    assert [n.bound for n in news] == sorted(n.bound for n in news)
    assert all(n.bound <= n.objective for n in news if n.objective is not None)
    assert outcome.value is not None
    assert [row.objective for row in outcome.progress][-1] == outcome.value.lateness


def test_an_interrupted_clock_has_no_time_left() -> None:
    """And without an interrupt it has what is left of the limit."""
    clock = Clock(100.0)
    assert 0.0 <= clock.over() < 0.1
    assert 90.0 < clock.left_s() <= 100.0
    clock.interrupted.set()
    assert (clock.over(), clock.left_s()) == (1.0, 0.0)


def _one_variable() -> tuple[cp_model.CpModel, cp_model.IntVar]:
    model = cp_model.CpModel()
    x = model.new_int_var(0, 5, "x")
    model.minimize(x)
    return model, x


def test_a_fault_of_presolve_is_gone_around(monkeypatch: pytest.MonkeyPatch) -> None:
    """The solver fails as it does on some models; without the steps that fail it solves."""
    model, x = _one_variable()
    solver, tried = cp_model.CpSolver(), list[int]()
    solve_model = solver.solve

    def solve_or_fail(one: cp_model.CpModel, _watch: object) -> cp_model.CpSolverStatus:
        tried.append(solver.parameters.symmetry_level)
        if len(tried) == 1:
            raise IndexError("raw_hash_map<>::at")
        return solve_model(one)

    monkeypatch.setattr(solver, "solve", solve_or_fail)
    assert run(solver, model, threading.Event()) == cp_model.OPTIMAL
    assert solver.value(x) == 0
    assert tried[1] == 0


def test_any_other_fault_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is swallowed in the solver's thread."""
    model, _ = _one_variable()
    solver = cp_model.CpSolver()

    def fail(_model: cp_model.CpModel, _watch: object) -> cp_model.CpSolverStatus:
        raise ZeroDivisionError

    monkeypatch.setattr(solver, "solve", fail)
    with pytest.raises(ZeroDivisionError):
        run_solver.run(solver, model, threading.Event())
