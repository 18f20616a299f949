"""Planned schedules of random shops pass the checker, and every change that breaks a rule is caught under that rule."""

from functools import lru_cache

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from random_shop import random_shop

from check.mutations import MUTATIONS
from scheduler.check import check_schedule
from scheduler.pipeline import Plan, plan
from scheduler.rules import RULES
from scheduler.search.settings import Settings

SEEDS = (1, 2, 4)


@lru_cache
def planned(seed: int) -> Plan:
    """A plan of a random shop of six units: half a second of search, for any schedule will do."""
    return plan(random_shop(seed, 6), Settings(time_limit_s=0.5))


def test_every_rule_has_a_mutation() -> None:
    """No rule is left out, and none is made up."""
    assert {rule for rule, _ in MUTATIONS.values()} == set(RULES)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_planned_schedule_passes(seed: int) -> None:
    """What the planner writes keeps every rule and states its figures truly."""
    planned_for = planned(seed)
    report = check_schedule(planned_for.shop, planned_for.schedule)
    assert report.breaches == ()
    assert report.mismatched_goals == ()


@pytest.mark.parametrize("name", MUTATIONS)
@settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(seed=st.sampled_from(SEEDS), number=st.integers(0, 1000))
def test_a_mutation_is_caught_by_the_rule_that_it_breaks(name: str, seed: int, number: int) -> None:
    """The changed schedule is refused under the rule that the mutation is listed under."""
    rule, mutation = MUTATIONS[name]
    base = planned(seed)
    case = mutation(base.shop, base.schedule, number)
    assume(case is not None)
    assert case is not None
    assert rule in {breach.rule for breach in check_schedule(*case).breaches}
