"""The shop as it stands now, from what was recorded."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from tiny_shop import MONDAY, tiny_shop

from scheduler.pipeline import Plan, plan
from scheduler.record.events import AnyEvent, Arrived, Away, Correction, Delivered, Down, Finished, Rejected, Started, sealed
from scheduler.record.shop_now import shop_now
from scheduler.search.settings import Settings
from scheduler.shop.calendar import Shut

QUICK = Settings(moves=20, workers=1)


@pytest.fixture(scope="module")
def planned() -> Plan:
    """The tiny shop, planned."""
    return plan(tiny_shop(), QUICK)


def event(model: Any, at: datetime, **fields: Any) -> AnyEvent:
    """A sealed event that was recorded at once."""
    return sealed(model(happened_at=at, recorded_at=at, **fields))


def reported(planned: Plan, now: datetime) -> list[AnyEvent]:
    """Starts and ends as the plan has them, as far as they lie before ``now``."""
    found = []
    for work in planned.schedule.work:
        fields = {"unit_id": work.unit_id, "step": work.name}
        if work.start <= now:
            found.append(event(Started, work.start, **fields))
        if work.end <= now:
            found.append(event(Finished, work.end, **fields))
    return found


def test_nothing_recorded_leaves_everything_to_do(planned: Plan) -> None:
    """Only the beginning of the plan moves."""
    now = MONDAY + timedelta(hours=4)
    after = shop_now(planned.shop, planned.schedule, [], now)
    assert after.site.plan_from == now
    assert after.model_copy(update={"site": planned.shop.site}) == planned.shop


def test_finished_steps_are_history_with_the_bay_and_people_of_the_plan(planned: Plan) -> None:
    """The rows are those of the plan's work."""
    now = MONDAY + timedelta(hours=4)
    after = shop_now(planned.shop, planned.schedule, reported(planned, now), now)
    works = {(w.unit_id, w.name): w for w in planned.schedule.work if w.end <= now}
    done = {(row.unit_id, row.step): row for row in after.done if row.ended_at <= now}
    assert done.keys() == works.keys()
    for key, row in done.items():
        assert (row.started_at, row.ended_at, row.bay_id) == (works[key].start, works[key].end, works[key].bay_id)
        assert row.people == tuple(p.person_id for p in works[key].people)


def test_a_correction_takes_the_place_of_what_was_wrong(planned: Plan) -> None:
    """Received at 06:40 and not at 06:30; and withdrawn, it was not received at all."""
    wrong = event(Finished, MONDAY + timedelta(minutes=30), unit_id="U1", step="receive", started_at=MONDAY)
    right = event(Finished, MONDAY + timedelta(minutes=40), unit_id="U1", step="receive", started_at=MONDAY)
    now = MONDAY + timedelta(hours=1)
    instead = event(Correction, now, corrects=wrong.id, instead=right)
    withdrawn = event(Correction, now, corrects=instead.id)
    rows = [shop_now(planned.shop, planned.schedule, [wrong, instead, withdrawn][:n], now).done for n in (1, 2, 3)]
    assert [[r.ended_at for r in done] for done in rows] == [[wrong.happened_at], [right.happened_at], []]


def test_absences_and_repairs_are_closures_and_arrivals_move_units(planned: Plan) -> None:
    """As they were reported, beside what the folder says."""
    now, tuesday = MONDAY + timedelta(hours=4), MONDAY + timedelta(days=1)
    told = [
        event(Away, tuesday, person_id="ada", until=tuesday + timedelta(hours=10)),
        event(Down, tuesday, what="bay", which="B1", until=tuesday + timedelta(hours=2)),
        event(Arrived, tuesday, unit_id="U2"),
    ]
    after = shop_now(planned.shop, planned.schedule, told, now)
    assert [(c.what, c.which, c.closed_from) for c in after.closures] == [
        (Shut.PERSON, "ada", tuesday),
        (Shut.BAY, "B1", tuesday),
    ]
    assert [u.available_from for u in after.units] == [MONDAY, tuesday]


def test_stock_comes_and_goes(planned: Plan) -> None:
    """A delivery of a new lot counts from its day on, a rejected lot not at all."""
    lot = {"lot_id": "A2", "product_id": "lining", "packs": 12, "expires_on": "2025-12-31"}
    told = [event(Delivered, MONDAY, **lot), event(Rejected, MONDAY, lot_id="A1")]
    after = shop_now(planned.shop, planned.schedule, told, MONDAY)
    assert [(row.lot_id, row.packs, row.arrives_on) for row in after.lots] == [
        ("P1", 4, planned.shop.lots[1].arrives_on),
        ("A2", 12, MONDAY.date()),
    ]
