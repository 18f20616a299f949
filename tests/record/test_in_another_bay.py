"""A film whose fault is found when its unit stands in another bay, or in a bay for the second time."""

from dataclasses import replace

import pytest
from prime_bay import with_prime_bay
from random_shop import random_shop

from scheduler.check.check import check_schedule
from scheduler.pipeline import Plan, plan
from scheduler.record.as_planned import as_planned
from scheduler.record.desk import Desk
from scheduler.record.enter import admit
from scheduler.record.event_of_report import event_of
from scheduler.record.events import Finished
from scheduler.record.report import Report
from scheduler.record.shop_now import shop_now
from scheduler.replan.choices import Wish, replan
from scheduler.search.settings import Settings
from scheduler.shop.needs import needs_of
from scheduler.shop.shop import Shop

QUICK = Settings(moves=5, workers=1)


def _planned(coat_bays_too: bool) -> tuple[Plan, str]:
    made = plan(with_prime_bay(random_shop(2, 3), coat_bays_too), QUICK)
    unit_id = next(work.unit_id for work in made.schedule.work if work.name == "prime")
    return made, unit_id


def _desk(made: Plan, unit_id: str, step: str) -> Desk:
    """Everything went as planned until a step of the unit had ended; what begins at that moment has not begun."""
    end = next(work.end for work in made.schedule.work if (work.unit_id, work.name) == (unit_id, step))
    desk = Desk(made.shop, made.schedule, (), end)
    return replace(desk, events=tuple(e for e in as_planned(desk, end) if isinstance(e, Finished) or e.happened_at < end))


def _failed(desk: Desk, unit_id: str, film: str, **said: str) -> Shop:
    fail = event_of(desk, Report("failed", f"{unit_id}/{film}", {"cause": "blisters", **said}))
    entry = admit(desk, fail)
    assert not entry.objections, entry
    desk = desk.with_event(fail)
    return shop_now(desk.shop, desk.schedule, desk.events, desk.now)


def _left(shop: Shop, unit_id: str) -> list[str]:
    done = {row.step for row in shop.done if row.unit_id == unit_id}
    return [need.name for need in needs_of(shop, unit_id) if need.name not in done]


def test_a_unit_goes_back_to_the_bay_of_the_film_that_failed() -> None:
    """The primer has blisters when the unit stands in the coat bay, which is not for it: out, made good, in again, coated."""
    made, unit_id = _planned(coat_bays_too=False)
    desk = _desk(made, unit_id, "move_in-coat")
    shop = _failed(desk, unit_id, "prime", share="8")
    names = _left(shop, unit_id)
    back = ["move_out-coat", "move_in-prime-r1", "cut_out-r1", "wipe-r1", "touch_up-r1", "move_out-prime-r1", "move_in-coat-r1"]
    assert [name for name in names if name in back] == back
    assert names[: len(back)] == back
    assert "coat-1" in names
    assert names[-2:] == ["move_out-coat-r1", "dispatch"]
    again = plan(shop, QUICK)
    stays = {stay.stage: stay for stay in again.schedule.stays if stay.unit_id == unit_id}
    assert stays["prime-r1"].bay_id == "PR"
    assert stays["coat"].end <= stays["prime-r1"].start < stays["prime-r1"].end <= stays["coat-r1"].start
    assert all(choice.plan.report.ok for choice in replan(shop, desk.schedule, Wish(QUICK)).choices)
    here = [w.model_copy(update={"bay_id": stays["coat"].bay_id}) if w.name == "touch_up-r1" else w for w in again.schedule.work]
    wrong = check_schedule(shop, again.schedule.model_copy(update={"work": tuple(here)}))
    assert "bay_fit" in {breach.rule for breach in wrong.breaches}


def test_a_film_is_made_good_where_the_unit_stands_if_that_bay_takes_it() -> None:
    """The coat bays prime too: nothing is moved for it."""
    made, unit_id = _planned(coat_bays_too=True)
    desk = _desk(made, unit_id, "move_in-coat")
    shop = _failed(desk, unit_id, "prime", share="8")
    assert _left(shop, unit_id)[:4] == ["cut_out-r1", "wipe-r1", "touch_up-r1", "coat-1"]
    assert plan(shop, QUICK).report.ok


def test_a_film_that_fails_again_after_the_unit_came_back_is_made_good_there() -> None:
    """It stands in a coat bay for the second time."""
    made, unit_id = _planned(coat_bays_too=False)
    desk = _desk(made, unit_id, "move_out-coat")
    film = [w.name for w in made.schedule.work if w.unit_id == unit_id and w.product_id][-1]
    shop = _failed(desk, unit_id, film, share="5")
    again = plan(shop, QUICK)
    second = _desk(replace(again, shop=shop), unit_id, "move_in-coat-r1")
    more = _failed(second, unit_id, film, share="9")
    left = _left(more, unit_id)
    assert left[0] == "cut_out-r2"
    assert "move_in-coat-r2" not in left
    assert plan(more, QUICK).report.ok


@pytest.mark.parametrize("step", ["move_out-coat"])
def test_a_unit_on_its_way_goes_back_to_the_stage_of_the_film(step: str) -> None:
    """The primer fails as the unit leaves the coat bay: it goes into the bay where primer is sprayed."""
    made, unit_id = _planned(coat_bays_too=False)
    desk = _desk(made, unit_id, step)
    shop = _failed(desk, unit_id, "prime", share="3")
    assert _left(shop, unit_id)[0] == "move_in-prime-r1"
    assert plan(shop, QUICK).report.ok


def test_an_inspection_that_is_over_is_not_judged_from_another_bay() -> None:
    """What was looked at in a bay that the unit has left is said of the film."""
    made, unit_id = _planned(coat_bays_too=False)
    desk = _desk(made, unit_id, "dispatch")
    fail = event_of(desk, Report("failed", f"{unit_id}/prime", {"cause": "blisters"}))
    assert [o.problem for o in admit(desk, fail).objections] == ["belongs to a unit that was handed back"]
