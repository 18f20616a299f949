"""Published optima through our own network and model (sources and licences in data/instances/README.md)."""

import threading
from dataclasses import replace

import pytest

from scheduler.search.improve import Improver
from scheduler.search.prove import Effort, prove
from tests.published import faults_of, job_shop, project

EFFORT = Effort(limit_s=60, seed=1, workers=4)


@pytest.mark.parametrize(("name", "optimum"), [("ft06", 55), ("la01", 666), ("la05", 593)])
def test_job_shop_is_solved_to_its_published_optimum(name: str, optimum: int) -> None:
    """Muth and Thompson 1963 (ft06), Lawrence 1984 (la01, la05): improvement, then proof from its solution as a hint."""
    net, published = job_shop(name)
    improver = Improver(net, seed=1)
    first = improver.first()
    assert first is not None
    improver.run(lambda moves: moves / 200, lambda _better: None)
    assert improver.best is not None
    assert improver.best.value.lateness >= optimum
    answer = prove(net, "makespan", {}, improver.best.placed, EFFORT, threading.Event())
    assert (answer.proven, answer.objective, answer.bound, published) == (True, optimum, optimum, optimum)
    assert answer.placed is not None
    assert faults_of(net, improver.best.placed) == faults_of(net, answer.placed) == []


def test_project_with_renewable_resources_is_solved_to_its_published_optimum() -> None:
    """PSPLIB j301_1 (Kolisch and Sprecher 1997): makespan 43; the critical path alone gives 38."""
    net = project("j301_1")
    answer = prove(net, "makespan", {}, None, EFFORT, threading.Event())
    assert (answer.proven, answer.objective) == (True, 43)
    assert answer.placed is not None
    assert faults_of(net, answer.placed) == []


def test_a_fault_of_a_solution_is_seen() -> None:
    """What counts machines slot by slot says so where two operations share one, or follow one another too soon."""
    net, _ = job_shop("ft06")
    improver = Improver(net, seed=1)
    first = improver.first()
    assert first is not None
    faults = faults_of(net, replace(first.placed, start=(0,) * len(net.activities)))
    assert any("overbooked" in fault for fault in faults)
    assert any("starts before" in fault for fault in faults)
