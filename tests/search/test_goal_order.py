"""The order of the goals: as the planner names them, the rest breaking ties, and the search follows it."""

import pytest
from random_shop import random_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.search.improve import Improver
from scheduler.search.value import GOALS, Value, goal_order, ranked

LATE_AND_FRUGAL = Value(0, 5, 10, 0, 100, 7)
EARLY_AND_COSTLY = Value(0, 2, 12, 90, 80, 3)


def test_goals_that_are_not_named_follow_in_their_usual_order() -> None:
    """All goals are there once, whatever was named."""
    assert goal_order() == tuple(GOALS)
    assert goal_order(("cost", "lateness")) == ("cost", "lateness", "material", "finish", "even_load")


@pytest.mark.parametrize(
    ("first", "better"), [("lateness", EARLY_AND_COSTLY), ("material", LATE_AND_FRUGAL), ("cost", LATE_AND_FRUGAL)]
)
def test_the_first_goal_decides(first: str, better: Value) -> None:
    """Of two values the one that is better in the first goal is better."""
    order = goal_order((first,))
    assert min((LATE_AND_FRUGAL, EARLY_AND_COSTLY), key=lambda value: ranked(value, order)) == better


def test_the_search_goes_for_the_goal_that_is_named_first() -> None:
    """On a shop where they pull apart, overtime first costs no more than lateness first, and the reverse."""
    net = build_network(random_shop(2, 6)).network
    late, cheap = (_improved(net, goal) for goal in ("lateness", "cost"))
    assert cheap.cost < late.cost
    assert late.lateness < cheap.lateness


def _improved(net: Network, goal: str) -> Value:
    improver = Improver(net, 1, (goal,))
    improver.first()
    improver.run(lambda moves: moves / 60, lambda _better: None)
    assert improver.best is not None
    return improver.best.value
