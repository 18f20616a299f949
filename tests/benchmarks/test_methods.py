"""Every method makes schedules of the same rules: the one checker passes what it finds on a small shop."""

import pytest

from scheduler.activities.build import build_network
from scheduler.pipeline import checked
from scheduler.schedule.schedule import Status
from scheduler.search.outcome import Bounds, Outcome
from scheduler.search.settings import Settings
from scheduler.search.value import value_of
from tests.benchmarks.methods import METHODS
from tests.random_shop import random_shop

SECONDS = {"coatrun": 0.5, "best of passes": 0.5}


@pytest.mark.parametrize("method", METHODS)
def test_what_a_method_finds_passes_the_checker(method: str) -> None:
    """Three units; the last point of its course is what the checker measures, and its bound is not above."""
    shop = random_shop(1, 3)
    built = build_network(shop)
    found = METHODS[method](built.network, SECONDS.get(method, 20.0), 1)
    assert found.placed is not None, found.note
    bounds = Bounds(0, 0, (0,) * len(built.network.paths))
    outcome = Outcome(Status.FEASIBLE, found.placed, value_of(built.network, found.placed), bounds, "benchmark", None, 1.0)
    goals = checked(shop, built, outcome, found.placed, Settings()).report.goals
    assert found.progress[-1][1] == goals["lateness"]
    assert found.bound <= goals["lateness"]
    assert [value for _, value in found.progress] == sorted((value for _, value in found.progress), reverse=True)


def test_a_model_that_is_not_built_in_time_is_a_failure_with_its_reason() -> None:
    """The plain model has the same seconds as any other method, building included."""
    found = METHODS["CP-SAT 2"](build_network(random_shop(1, 3)).network, 0.001, 1)
    assert found.placed is None
    assert "not built" in found.note
