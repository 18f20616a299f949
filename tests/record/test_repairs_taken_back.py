"""Steps that are there only because something was reported: prepared again, or a repair whose failure is withdrawn."""

from datetime import timedelta

import pytest
from random_shop import random_shop

from scheduler.pipeline import Plan, plan
from scheduler.record.correcting import correction
from scheduler.record.desk import Desk
from scheduler.record.enter import admit
from scheduler.record.event_of_report import event_of
from scheduler.record.events import Failed, Finished
from scheduler.record.report import Report
from scheduler.record.state import state_of
from scheduler.search.settings import Settings
from scheduler.shop.methods import Step
from tests.record.as_reported import event, reported


@pytest.fixture(scope="module")
def planned() -> Plan:
    """Three random units, planned."""
    return plan(random_shop(3, 3), Settings(moves=5, workers=1))


def test_a_surface_that_was_prepared_again_takes_its_time_from_the_method(planned: Plan) -> None:
    """Its end alone is reported: it began as long before as the method says, and is recorded."""
    wipe = next(work for work in planned.schedule.work if work.step is Step.WIPE)
    now = wipe.end + timedelta(hours=2)
    told = tuple(e for e in reported(planned, wipe.end) if isinstance(e, Finished) or e.happened_at < wipe.end)
    desk = Desk(planned.shop, planned.schedule, told, now)
    made = event_of(desk, Report("finished", f"{wipe.unit_id}/wipe-r1"))
    assert isinstance(made, Finished)
    assert made.started_at is not None
    assert wipe.end <= made.started_at < made.happened_at
    assert not admit(desk, made).objections
    assert "wipe-r1" in desk.with_event(made).steps_of(wipe.unit_id)


def test_a_failure_is_not_withdrawn_under_the_repair_that_has_begun(planned: Plan) -> None:
    """The unit was brought back and failed again: to withdraw the first failure is refused in words."""
    out = next(work for work in planned.schedule.work if work.name == "move_out-coat")
    film = [work for work in planned.schedule.work if work.unit_id == out.unit_id and work.product_id][-1]
    hour = timedelta(hours=1)
    first = event(Failed, out.end, unit_id=out.unit_id, step=film.name, cause="blisters", share_pct=5)
    back = event(Finished, out.end + 2 * hour, unit_id=out.unit_id, step="move_in-coat-r1", started_at=out.end + hour)
    cut = event(Finished, out.end + 4 * hour, unit_id=out.unit_id, step="cut_out-r1", started_at=out.end + 3 * hour)
    again = event(Failed, out.end + 5 * hour, unit_id=out.unit_id, step="cut_out-r1", cause="too small")
    told = (*reported(planned, out.end), first, back, cut, again)
    desk = Desk(planned.shop, planned.schedule, told, out.end + 6 * hour)
    wrong = admit(desk, correction(desk, first.id, None, {}, withdraw=True)).objections
    assert any("does not need it" in objection.problem for objection in wrong)
    state_of(desk.with_event(correction(desk, first.id, None, {}, withdraw=True)))
