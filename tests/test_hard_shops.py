"""Shops with every difficulty: what is planned passes the checker, also when part of it is done and the rest planned again."""

import pytest
from wild_shop import replanned, wild_shop

from scheduler.check import check_schedule
from scheduler.pipeline import NoScheduleError, Plan, plan
from scheduler.search.settings import Settings
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop
from scheduler.shop.write import write_shop

SEEDS = (0, 3, 7, 15, 21, 100, 106, 110, 117)


def _plan(shop: Shop) -> Plan:
    """A quick plan without a proof; one that breaks a rule is an error in itself."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(shop, Settings(seed=1, moves=15, time_limit_s=20, workers=2))


def _plan_or_clash(shop: Shop) -> Plan | tuple[str, ...]:
    """A plan, or the rules that clash."""
    try:
        return _plan(shop)
    except NoScheduleError as none:
        return none.outcome.clash.rules if none.outcome.clash else ()


@pytest.fixture(scope="module", params=SEEDS)
def planned(request: pytest.FixtureRequest) -> tuple[int, Plan]:
    """A wild shop of three to eight units and its plan."""
    return request.param, _plan(wild_shop(request.param, 3 + request.param % 6))


def test_a_plan_of_a_hard_shop_keeps_every_rule_and_beats_no_bound(planned: tuple[int, Plan]) -> None:
    """The checker finds no breach and the same goals."""
    _, made = planned
    report = check_schedule(made.shop, made.schedule)
    assert report.breaches == ()
    assert report.mismatched_goals == ()
    for goal in made.schedule.goals:
        assert report.goals[goal.name] == goal.value
        assert goal.bound is None or goal.bound <= goal.value + 1e-9


def test_what_is_left_of_a_plan_is_planned_again_beside_what_is_done(planned: tuple[int, Plan]) -> None:
    """Days later the done steps stand as recorded and the new plan keeps every rule, or history is named as what clashes.

    Cartridges that lie in a warmer are no history: a coat that waits for new ones may come too late for the one below it.
    """
    seed, made = planned
    shop = replanned(made.shop, made.schedule, seed)
    again = _plan_or_clash(shop)
    if not isinstance(again, Plan):
        assert {"done_work", "pinned_work"} & set(again)
        return
    assert again.report.ok
    assert {w.work_id for w in again.schedule.work if w.done} == {f"{d.unit_id}/{d.step}" for d in shop.done}
    assert {w.work_id for w in again.schedule.work} == {w.work_id for w in made.schedule.work}
    for goal in again.schedule.goals:
        assert goal.bound is None or goal.bound <= goal.value + 1e-9


@pytest.mark.parametrize("seed", SEEDS)
def test_a_hard_shop_is_valid_at_the_border(seed: int, tmp_path_factory: pytest.TempPathFactory) -> None:
    """These shops could be typed: written as a folder they read back without a fault."""
    folder = tmp_path_factory.mktemp("wild")
    shop = wild_shop(seed, 3 + seed % 6)
    write_shop(shop, folder)
    assert read_shop(folder) == shop
