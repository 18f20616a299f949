"""What a goal costs the next: every row is a checked plan, and none loses the goal that was put in front."""

from itertools import pairwise

import pytest

from scheduler.pipeline import Plan, plan
from scheduler.replan.goal_costs import Tried, what_goals_cost
from scheduler.search.settings import Settings
from scheduler.search.value import GOALS
from tests.random_shop import random_shop


@pytest.fixture(scope="module")
def made() -> Plan:
    """Eight random units, planned."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(random_shop(3, 8, days=40), Settings(moves=30))


@pytest.fixture(scope="module")
def rows(made: Plan) -> tuple[Tried, ...]:
    """Each two goals exchanged."""
    return what_goals_cost(made.shop, made.schedule, 60, 1, lambda _pair: None)


def test_each_two_goals_that_follow_each_other_are_exchanged_once(rows: tuple[Tried, ...]) -> None:
    """First the plan's own order, then one row a pair, with all goals in each."""
    assert rows[0].pair is None
    assert [row.pair for row in rows[1:]] == [(second, first) for first, second in pairwise(GOALS)]
    assert all({goal.name for goal in row.goals} == set(GOALS) for row in rows)


def test_no_row_is_worse_in_the_goals_up_to_the_one_that_was_put_in_front(rows: tuple[Tried, ...]) -> None:
    """Each search begins from the first row, so in its own order of goals it cannot end below it."""
    for row in rows[1:]:
        mine = [round(row.of(goal.name), 1) for goal in row.goals]
        plain = [round(rows[0].of(goal.name), 1) for goal in row.goals]
        assert mine <= plain


def test_the_same_seed_gives_the_same_rows(made: Plan, rows: tuple[Tried, ...]) -> None:
    """Moves are counted, so the figures repeat."""
    again = what_goals_cost(made.shop, made.schedule, 60, 1, lambda _pair: None)
    assert [row.goals for row in again] == [row.goals for row in rows]
