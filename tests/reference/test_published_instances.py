"""Published optima through our own network and model (sources and licences in data/instances/README.md)."""

import threading

import pytest

from scheduler.search.improve import Improver
from scheduler.search.prove import Effort, prove
from tests.published import job_shop, project

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


def test_project_with_renewable_resources_is_solved_to_its_published_optimum() -> None:
    """PSPLIB j301_1 (Kolisch and Sprecher 1997): makespan 43; the critical path alone gives 38."""
    answer = prove(project("j301_1"), "makespan", {}, None, EFFORT, threading.Event())
    assert (answer.proven, answer.objective) == (True, 43)
