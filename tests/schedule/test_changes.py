"""What two schedules differ in, from hand-made shifts of one schedule."""

from datetime import timedelta

import pytest

from scheduler.documents.changes.change_words import change_data, change_sentence, change_tables, shift_text
from scheduler.documents.words.local_time import LocalTime
from scheduler.pipeline import plan
from scheduler.schedule.changes import changes
from scheduler.schedule.deliveries import delivery_dates
from scheduler.schedule.schedule import Assigned, Schedule, Span, Work
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop
from tests.tiny_shop import tiny_shop

DAY = timedelta(days=1)


@pytest.fixture(scope="module")
def shop() -> Shop:
    """Two units of one order."""
    return tiny_shop()


@pytest.fixture(scope="module")
def schedule(shop: Shop) -> Schedule:
    """Its plan."""
    return plan(shop, Settings(moves=1, workers=1)).schedule


def _later(work: Work, by: timedelta) -> Work:
    spans = tuple(Span(start=s.start + by, end=s.end + by) for s in work.spans)
    return work.model_copy(update={"spans": spans})


def _with(shop: Shop, schedule: Schedule, work: tuple[Work, ...]) -> Schedule:
    return schedule.model_copy(update={"work": work, "deliveries": delivery_dates(shop, work)})


def test_a_schedule_does_not_differ_from_itself(schedule: Schedule) -> None:
    """Nothing moves, and the words say so."""
    found = changes(schedule, schedule)
    assert found.none
    assert change_sentence(found, LocalTime(shop_zone(schedule))) == "Nothing changes."
    assert change_tables(found, LocalTime(shop_zone(schedule))) == ()


def shop_zone(schedule: Schedule):  # type: ignore[no-untyped-def]  # noqa: ANN201
    """Zone of a schedule."""
    from zoneinfo import ZoneInfo

    return ZoneInfo(schedule.zone)


def test_a_later_last_step_moves_its_unit_its_order_and_its_people(shop: Shop, schedule: Schedule) -> None:
    """One dispatch a day later: one unit, one order a day later, its people and no bay."""
    last = max(schedule.work, key=lambda w: w.end)
    after = _with(shop, schedule, tuple(_later(w, DAY) if w is last else w for w in schedule.work))
    found = changes(schedule, after)
    assert found.units == (last.unit_id,)
    assert [(m.either.order_id, m.shift) for m in found.dates] == [(last.order_id, DAY)]
    assert set(found.people) == {p.person_id for p in last.people}
    days = {last.start.date(), (last.start + DAY).date()}
    assert all(set(found.people[p.person_id]) == days for p in last.people)
    data = change_data(found, LocalTime(shop.site.tz))
    assert data["orders"][0]["shift_h"] == 24  # type: ignore[index]
    assert "1 unit moves; 1 order handed back at another time (1 later, 0 earlier)" in str(data["says"])


def test_another_person_is_a_change_for_two_people_and_for_no_unit(shop: Shop, schedule: Schedule) -> None:
    """The step stands where it was; the one who leaves it and the one who comes both have a changed day."""
    step = next(w for w in schedule.work if w.people)
    gone = step.people[0].person_id
    swapped = step.model_copy(update={"people": (Assigned(person_id="somebody", skill=step.people[0].skill), *step.people[1:])})
    found = changes(schedule, _with(shop, schedule, tuple(swapped if w is step else w for w in schedule.work)))
    assert found.units == ()
    assert {"somebody", gone} <= set(found.people)
    assert found.moves[0].came == {"somebody"}
    assert found.moves[0].went == {gone}


def test_what_has_happened_is_no_move(shop: Shop, schedule: Schedule) -> None:
    """A step that was done an hour late is history; a step that fell away is told as gone."""
    first, last = schedule.work[0], schedule.work[-1]
    done = _later(first, timedelta(hours=1)).model_copy(update={"done": True})
    rows = tuple(done if w is first else w for w in schedule.work if w is not last)
    found = changes(schedule, _with(shop, schedule, rows))
    assert found.happened == (first,)
    assert found.gone == (last,)
    assert found.units == ()


def test_lengths_of_time_in_words() -> None:
    """Days, hours and minutes, later and earlier."""
    assert shift_text(timedelta(days=1, hours=2)) == "1 day 2 h later"
    assert shift_text(-timedelta(minutes=90)) == "1 h 30 min earlier"
    assert shift_text(timedelta(0)) == "same time"
