"""Events of units, people, bays, lots and products that the shop does not have: in a file of another run, say."""

from datetime import timedelta

import pytest
from random_shop import random_shop

from scheduler.pipeline import Plan, plan
from scheduler.record.as_planned import as_planned
from scheduler.record.correcting import correction
from scheduler.record.desk import Desk
from scheduler.record.enter import admit
from scheduler.record.events import Arrived, Away, Delivered, Down, Finished, Loaded, Reading, Rejected, Started, Used
from scheduler.record.foreign import foreign
from scheduler.record.shop_now import shop_now
from scheduler.record.state import state_of
from scheduler.search.settings import Settings
from scheduler.shop.calendar import Shut
from tests.record.as_reported import event


@pytest.fixture(scope="module")
def planned() -> Plan:
    """Three random units, planned."""
    return plan(random_shop(3, 3), Settings(moves=5, workers=1))


def test_a_file_of_another_run_changes_nothing_and_is_told(planned: Plan) -> None:
    """None of its events counts, each is named with what the shop does not have, and all can be withdrawn."""
    now = planned.schedule.work[5].end
    until = now + timedelta(days=1)
    strangers = [
        event(Started, now, unit_id="X1", step="wash", planned_end=now),
        event(Finished, now, unit_id="X1", step="wash"),
        event(Loaded, now, unit_id="X1", step="coat-1", warmer_id="H1", lot_id="L1", cartridges=3),
        event(Arrived, now, unit_id="X1"),
        event(Reading, now, unit_id="X1", steel_c=12.0),
        event(Away, now, person_id="X2", until=until),
        event(Down, now, what=Shut.BAY, which="X3", until=until),
        event(Used, now, cartridge_id="X4#001", lot_id="X4", ml=3.0),
        event(Delivered, now, lot_id="X5", product_id="X6", packs=3, expires_on=until.date()),
    ]
    own = as_planned(Desk(planned.shop, planned.schedule, (), now), now)
    desk = Desk(planned.shop, planned.schedule, (*own, *strangers), now)
    assert shop_now(desk.shop, desk.schedule, desk.events, now) == shop_now(desk.shop, desk.schedule, own, now)
    assert [told.id for told, _ in foreign(desk.shop, desk.events)] == [told.id for told in strangers]
    assert {lacks for _, lacks in foreign(desk.shop, desk.events)} == {
        "unit X1",
        "person X2",
        "bay or equipment X3",
        "lot X4",
        "product X6",
    }
    state_of(desk)
    assert as_planned(desk, until) == as_planned(Desk(planned.shop, planned.schedule, tuple(own), now), until)
    for told in strangers:
        wrong = admit(Desk(planned.shop, planned.schedule, (), now), told).objections
        assert wrong or isinstance(told, Used)
        taken_back = correction(desk, told.id, None, {}, withdraw=True)
        assert not admit(desk, taken_back).objections
    assert not list(foreign(planned.shop, [event(Rejected, now, lot_id=planned.shop.lots[0].lot_id)]))
