"""What goes wrong as a unit is moved out of its bay: the move ends, and the unit comes back or is seen to in the next one."""

from datetime import timedelta

import pytest
from random_shop import random_shop

from scheduler.check import check_schedule
from scheduler.pipeline import Plan, plan
from scheduler.record.desk import Desk
from scheduler.record.enter import admit
from scheduler.record.events import Failed
from scheduler.record.shop_now import shop_now
from scheduler.replan.choices import Wish, replan
from scheduler.search.settings import Settings
from scheduler.shop.calendar import Closure, Shut
from scheduler.shop.needs import needs_of
from scheduler.shop.shop import Shop
from tests.record.as_reported import event, reported

QUICK = Settings(moves=5, workers=1)


@pytest.fixture(scope="module")
def planned() -> Plan:
    """Three random units, planned."""
    return plan(random_shop(3, 3), QUICK)


def _left(shop: Shop, unit_id: str) -> list[str]:
    done = {row.step for row in shop.done if row.unit_id == unit_id}
    return [need.name for need in needs_of(shop, unit_id) if need.name not in done]


@pytest.mark.parametrize("share", [5.0, 100.0])
@pytest.mark.parametrize("under_way", [True, False])
def test_a_film_that_fails_as_the_unit_is_moved_out_brings_it_back(planned: Plan, share: float, under_way: bool) -> None:
    """The move ends as it was begun, with its people and gear; the unit is moved in again, made good, inspected and moved out."""
    move = next(w for w in planned.schedule.work if w.name == "move_out-coat")
    film = [w for w in planned.schedule.work if w.unit_id == move.unit_id and w.product_id][-1]
    now = move.start + (move.end - move.start) / 2 if under_way else move.end
    told = reported(planned, now)
    fail = event(Failed, now, unit_id=move.unit_id, step=film.name, cause="blisters", share_pct=share)
    assert not admit(Desk(planned.shop, planned.schedule, tuple(told), now), fail).objections
    shop = shop_now(planned.shop, planned.schedule, [*told, fail], now)
    move_now = next(row for row in shop.done if (row.unit_id, row.step) == (move.unit_id, move.name))
    assert move_now.is_under_way(now) == under_way
    redone = ["abrade-r1", "wipe-r1", f"{film.name}-r1"] if share == 100 else ["cut_out-r1", "wipe-r1", "touch_up-r1"]
    inspected = [name for name in _left(planned.shop, move.unit_id) if name == "inspect"]
    assert _left(shop, move.unit_id) == [
        "move_in-coat-r1",
        *redone,
        *(f"{name}-r1" for name in inspected),
        "move_out-coat-r1",
        "dispatch",
    ]
    again = plan(shop, QUICK)
    assert again.report.ok
    stays = [stay for stay in again.schedule.stays if stay.unit_id == move.unit_id and stay.stage == "coat-r1"]
    assert len(stays) == 1
    assert stays[0].start >= move_now.ended_at
    bays = [bay.bay_id for bay in shop.bays if "coat" not in bay.stages]
    back = [
        work.model_copy(update={"bay_id": bays[0]}) if work.name == "move_in-coat-r1" else work for work in again.schedule.work
    ]
    wrong = check_schedule(shop, again.schedule.model_copy(update={"work": tuple(back)}))
    assert "bay_fit" in {breach.rule for breach in wrong.breaches}


def test_a_surface_that_fails_between_two_bays_is_prepared_again_in_the_next(planned: Plan) -> None:
    """Abraded too smooth, seen as the unit goes to the coat bay."""
    move = next(w for w in planned.schedule.work if w.name == "move_out-prepare")
    now = move.start + (move.end - move.start) / 2
    told = reported(planned, now)
    fail = event(Failed, now, unit_id=move.unit_id, step="abrade", cause="too smooth")
    shop = shop_now(planned.shop, planned.schedule, [*told, fail], now)
    assert _left(shop, move.unit_id)[:3] == ["move_in-coat", "abrade-r1", "wipe"]
    assert plan(shop, QUICK).report.ok


def test_a_window_that_lapses_on_the_way_is_made_good_in_the_next_bay(planned: Plan) -> None:
    """The site is shut from the move on for a week: rust comes, and the steel is abraded again where it is coated."""
    move = next(w for w in planned.schedule.work if w.name == "move_out-prepare")
    now = move.start + (move.end - move.start) / 2
    shop = shop_now(planned.shop, planned.schedule, reported(planned, now), now)
    shut = Closure(what=Shut.SITE, closed_from=move.end, closed_until=move.end + timedelta(days=7), reason="storm")
    shop = shop.model_copy(update={"closures": (*shop.closures, shut)})
    found = replan(shop, planned.schedule, Wish(QUICK))
    assert [row.after for row in found.shop.rework if row.unit_id == move.unit_id] == ["move_in-coat"]
    assert _left(found.shop, move.unit_id)[:2] == ["move_in-coat", "abrade-r1"]
    assert found.choices[0].plan.report.ok
