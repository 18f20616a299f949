"""Every rule has a check, passes a schedule that keeps it and alone catches a schedule that breaks it."""

import pytest
from tiny_shop import tiny_shop

from check.breaks import BREAKS
from check.tiny import GOALS, check, tiny_schedule
from scheduler.check import check_schedule
from scheduler.check.registry import CHECKS
from scheduler.rules import RULES


def test_every_rule_has_a_check_and_a_breach() -> None:
    """The checks and the broken schedules of these tests carry the names of the registry, none more, in its order."""
    assert list(CHECKS) == list(RULES)
    assert set(BREAKS) == set(RULES)


def test_the_tiny_schedule_keeps_every_rule() -> None:
    """A schedule worked by hand passes, with the goals worked by hand."""
    report = check_schedule(tiny_shop(), tiny_schedule())
    assert report.breaches == ()
    assert report.mismatched_goals == ()
    assert report.goals == GOALS
    assert report.ok


@pytest.mark.parametrize("rule", RULES)
def test_a_breach_of_one_rule_is_reported_under_it_alone(rule: str) -> None:
    """The schedule that breaks one rule is refused under the name of that rule and of no other."""
    schedule, tables = BREAKS[rule]()
    report = check(schedule, **tables)
    assert {breach.rule for breach in report.breaches} == {rule}
    assert not report.ok


@pytest.mark.parametrize("rule", RULES)
def test_a_breach_reads_as_a_sentence_and_names_the_unit(rule: str) -> None:
    """What a person reads names a unit, an order or a lot of the shop and is one line."""
    schedule, tables = BREAKS[rule]()
    for breach in check(schedule, **tables).breaches:
        assert any(name in breach.says for name in ("U1", "U2", "O1", "A1", "ada", "the site"))
        assert "\n" not in breach.says
        assert breach.at is None or str(breach.at.tzinfo) == "Europe/Berlin"
