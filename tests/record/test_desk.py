"""What is asked of one unit or pack is worked out from its own events, and is what the whole projection says."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.record import desk as desk_module
from scheduler.record.as_planned import as_planned
from scheduler.record.desk import Desk
from scheduler.record.log import log_of
from scheduler.record.shop_now import shop_told
from scheduler.shop.needs import needs_of
from tests.record.any_events import TOLD, begin, planned, told


@settings(max_examples=15, deadline=None)
@given(st.data())
def test_a_unit_by_itself_is_as_the_whole_shop_has_it(data: st.DataObject) -> None:
    """Steps done, steps needed and rework of every unit; the log is the same event by event and all at once."""
    desk = told(begin(data), data.draw(st.lists(TOLD, max_size=8)))
    shop = shop_told(desk.shop, desk.schedule, desk.events, desk.now)
    for unit_id in shop.unit_by_id:
        unit = desk.unit_now(unit_id)
        assert unit.done == tuple(row for row in shop.done if row.unit_id == unit_id)
        assert unit.needs == needs_of(shop, unit_id)
        assert unit.rework == tuple(row for row in shop.rework if row.unit_id == unit_id)
    by_one = log_of(())
    for event in desk.events:
        by_one = by_one.with_event(event)
    assert by_one == log_of(desk.events) == desk.log


def test_a_day_as_planned_is_not_projected_event_by_event(monkeypatch: pytest.MonkeyPatch) -> None:
    """A hundred reports ask for the whole projection no more often than one does."""
    made = planned(1)
    counted: list[int] = []
    monkeypatch.setattr(desk_module, "shop_told", lambda *args: counted.append(1) or shop_told(*args))
    desk = Desk(made.shop, made.schedule, (), made.schedule.work[-1].end + timedelta(days=9))
    few = as_planned(desk, made.schedule.work[0].end)
    once = len(counted)
    found = as_planned(replace(desk, events=()), desk.now)
    assert len(found) > 5 * len(few)
    assert len(counted) - once <= once
