"""A schedule that names what the shop does not have, or writes times oddly, is refused with a breach and never raises."""

from datetime import UTC, datetime, timedelta

import pytest
from draws import changed
from tiny_shop import ZONE, tiny_shop

from check.tiny import at, broken, check, edit, move, put, tiny_schedule, with_true_stays
from scheduler.check import check_schedule
from scheduler.schedule.schedule import Assigned, Schedule, Span
from scheduler.shop.methods import Step

_COAT = next(work.draws for work in tiny_schedule().work if work.work_id == "U1/coat-1")
UNKNOWN: dict[str, tuple[str, dict[str, object]]] = {
    "step_order": ("U1/coat-1", {"product_id": "varnish"}),
    "bay_fit": ("U1/wipe", {"bay_id": "B9"}),
    "crew_skills": ("U1/wash", {"people": (Assigned(person_id="zoe", skill="hand"),)}),
    "gun_sessions": ("U1/coat-1", {"tools": ("G9#1",)}),
    "lifting": ("U1/receive", {"tools": ("L9", "T1")}),
    "warm_cartridges": ("U1/coat-1", {"draws": changed(_COAT, warmer_id="W9")}),
    "cartridge_stock": ("U1/coat-1", {"draws": changed(_COAT, lot_id="A9", cartridge_id="A9#001")}),
}


@pytest.mark.parametrize("rule", UNKNOWN)
def test_an_unknown_id_is_a_breach_of_the_closest_rule(rule: str) -> None:
    """Products, bays, people, gear, warmers and lots that the shop does not have are refused under one rule each."""
    work_id, fields = UNKNOWN[rule]
    assert broken(put(tiny_schedule(), work_id, **fields)) == {rule}


@pytest.mark.parametrize("tool", ["G1#2", "G1#0", "G1#x", "G1#-1", "#1", ""])
def test_a_piece_that_a_row_does_not_have_is_a_breach(tool: str) -> None:
    """The shop has one gun: a second one, or a number that cannot be read, is not a gun."""
    assert broken(put(tiny_schedule(), "U1/coat-1", tools=(tool,))) == {"gun_sessions"}


def test_work_on_an_unknown_unit_is_a_breach() -> None:
    """Work of a unit that the shop does not have leaves its real unit without the step."""
    report = check(put(tiny_schedule(), "U1/inspect", unit_id="U9"))
    assert {breach.rule for breach in report.breaches} == {"step_order"}
    assert any("no unit U9" in breach.says for breach in report.breaches)


@pytest.mark.parametrize("field", ["unit_id", "bay_id"])
def test_a_stay_of_an_unknown_unit_or_in_an_unknown_bay_is_a_breach(field: str) -> None:
    """A stay that names what is not there takes the place of the stay that should be."""
    schedule = tiny_schedule()
    stays = (schedule.stays[0].model_copy(update={field: "X9"}), *schedule.stays[1:])
    assert broken(schedule.model_copy(update={"stays": stays})) == {"bay_places"}


def test_a_time_without_an_offset_is_a_breach_and_read_as_local() -> None:
    """Naive times break shift_hours alone: read as the site's wall time they stand where they stood."""
    naive = (Span(start=datetime(2025, 6, 3, 7, 0), end=datetime(2025, 6, 3, 7, 15)),)
    report = check(put(tiny_schedule(), "U1/inspect", spans=naive))
    assert {breach.rule for breach in report.breaches} == {"shift_hours"}
    assert "without an offset" in report.breaches[0].says


@pytest.mark.parametrize("days", [-30, 300])
def test_work_far_off_the_horizon_is_a_breach_not_an_error(days: int) -> None:
    """A whole schedule moved before the horizon, or past the last hour of weather, is refused."""
    schedule = tiny_schedule()
    for work in schedule.work:
        schedule = move(schedule, work.work_id, work.start + timedelta(days=days))
    assert "shift_hours" in broken(schedule)
    assert ("weather_window" in broken(schedule)) == (days > 0)


@pytest.mark.parametrize("year", [1, 9999])
def test_a_year_that_no_plan_has_is_a_breach_not_an_error(year: int) -> None:
    """The first and the last year that a datetime can hold are refused like any other time off the horizon."""
    edge = datetime(year, 1, 1, tzinfo=ZONE) if year == 1 else datetime(year, 12, 31, 23, 59, tzinfo=ZONE)
    assert "shift_hours" in broken(put(tiny_schedule(), "U1/dispatch", spans=(Span(start=edge, end=edge),)))


def test_stretches_that_end_before_they_start_are_a_breach() -> None:
    """A stretch turned round is refused, whatever else it breaks."""
    turned = (Span(start=at(1, "07:15"), end=at(1, "07:00")),)
    assert "shift_hours" in broken(put(tiny_schedule(), "U1/inspect", spans=turned))


def test_an_empty_schedule_misses_every_step() -> None:
    """Nothing planned: every one of 26 steps is missing and every figure is recomputed from nothing."""
    empty = tiny_schedule().model_copy(update={"work": (), "stays": (), "deliveries": (), "goals": ()})
    report = check(empty)
    assert len([breach for breach in report.breaches if breach.rule == "step_order"]) == 26
    assert {breach.rule for breach in report.breaches} == {"step_order"}
    assert report.goals == {"lateness": 0.0, "material": 0.0, "cost": 0.0, "finish": 0.0, "even_load": 0.0}


def test_a_schedule_of_another_shop_is_refused() -> None:
    """The tiny schedule against a shop with other units, bays, people, gear and stock: breaches, not an error."""
    tables = tiny_shop().model_dump()
    renamed = {
        table: [
            {k: f"Z{v}" if k in {"unit_id", "bay_id", "person_id", "equipment_id", "lot_id"} else v for k, v in row.items()}
            for row in tables[table]
        ]
        for table in ("units", "surfaces", "bays", "crew", "equipment", "lots")
    }
    report = check_schedule(tiny_shop(**renamed), tiny_schedule())
    assert {breach.rule for breach in report.breaches} >= {"step_order", "bay_places"}


def test_a_step_that_is_there_twice_is_a_breach() -> None:
    """Work copied is not work done better."""
    schedule = tiny_schedule()
    doubled = schedule.model_copy(update={"work": (*schedule.work, schedule.work[2])})
    assert "step_order" in broken(doubled)


@pytest.mark.parametrize(
    "fields",
    [
        {"work_id": "U1-coat-1"},
        {"order_id": "O2"},
        {"step": Step.PRIME},
        {"area_m2": 9.0},
        {"coat_numbers": (1,)},
        {"product_id": None},
    ],
)
def test_a_step_described_otherwise_than_the_unit_needs_is_a_breach(fields: dict[str, object]) -> None:
    """Id, order, kind, area, coat numbers and product must be those that the unit's tables give."""
    assert broken(put(tiny_schedule(), "U1/coat-1", **fields)) == {"step_order"}


def test_the_same_instant_in_another_zone_is_the_same_schedule() -> None:
    """Times written with the offset of UTC say the same."""
    schedule = tiny_schedule()
    for work in schedule.work:
        utc = tuple(Span(start=span.start.astimezone(UTC), end=span.end.astimezone(UTC)) for span in work.spans)
        schedule = edit(schedule, work.work_id, lambda _work, utc=utc: {"spans": utc})
    reread = Schedule.model_validate_json(with_true_stays(schedule).model_dump_json())
    assert check(reread).ok
