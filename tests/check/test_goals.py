"""Goals recomputed by hand, and a schedule's own figures held against them."""

from datetime import date
from typing import Any

import pytest
from draws import changed
from tiny_shop import CREW, EQUIPMENT, ORDER, SHIFTS, with_row

from check.tiny import GOALS, at, check, put, tiny_schedule, without
from scheduler.schedule.schedule import GoalValue, Schedule


def _goals(schedule: Schedule | None = None, **tables: Any) -> dict[str, float]:
    return check(schedule or tiny_schedule(), **tables).goals


@pytest.mark.parametrize(
    ("order", "late"),
    [
        ({"due_at": at(4, "08:00")}, 0),
        ({"due_at": at(4, "07:45")}, 1),
        ({"due_at": at(3, "23:59")}, 1),
        ({"due_at": at(1, "12:00")}, 3),
        ({"due_at": at(1, "12:00"), "weight": 5}, 15),
        ({"due_at": at(1, "12:00"), "delivery": "singly"}, 1 + 3),
        ({"due_at": at(2, "07:00"), "delivery": "singly", "weight": 2}, 2 * (1 + 2)),
    ],
)
def test_lateness_counts_calendar_days_of_the_last_unit_or_of_each(order: dict[str, Any], late: float) -> None:
    """U1 is back on Wednesday (day 2) at 08:00, U2 on Friday (day 4) at 08:00; late on the same day is one day."""
    assert _goals(orders=[{**ORDER, **order}])["lateness"] == late


def test_material_counts_packs_that_are_opened_and_what_is_purged() -> None:
    """20 cartridges and 2 cans; each cartridge wastes its first 60 of 1100 mL."""
    assert _goals()["material"] == round(22 + 20 * 60 / 1100, 3)


def test_a_pack_that_stood_opened_is_not_opened_again() -> None:
    """One cartridge of coat-1 stood opened: it wastes as much when it is started again, and one fewer is opened."""
    opened = [{"pack_id": "X1", "lot_id": "A1", "opened_on": date(2025, 5, 1), "remaining_ml": 1100}]
    coat = next(work.draws for work in tiny_schedule().work if work.work_id == "U1/coat-1")
    resumed = put(tiny_schedule(), "U1/coat-1", draws=changed(coat, cartridge_id="X1", begins="resumed"))
    assert _goals(resumed, opened=opened)["material"] == round(21 + 20 * 60 / 1100, 3)


def test_overtime_is_paid_by_the_person_and_the_minute() -> None:
    """With overtime from 15:00, moving each coated unit out at 15:00 costs two people 15 min: 1 h for both units at 40."""
    rows = [
        {**SHIFTS[0], "ends": "15:00"},
        {"shift_id": "day", "weekdays": "mon tue wed thu fri", "starts": "15:00", "ends": "17:00", "overtime": True},
    ]
    report = check(tiny_schedule(), shifts=rows)
    assert report.breaches == ()
    assert report.goals["cost"] == 40.0


@pytest.mark.parametrize(("row", "days"), [("G1", 4), ("T1", 5), ("W1", 4), ("H1", 3)])
def test_rent_runs_from_the_first_day_of_use_to_the_last(row: str, days: int) -> None:
    """Gun and warmer Monday to Thursday, truck Monday to Friday, washer Monday to Wednesday; days of no use between count."""
    assert _goals(equipment=with_row(EQUIPMENT, "equipment_id", row, rent_per_day=7.5))["cost"] == 7.5 * days


def test_load_is_even_between_all_of_the_crew() -> None:
    """A fourth person with nothing to do makes the load of Ben and Cleo, 450 min, uneven by all of it."""
    idle = {"person_id": "dora", "name": "Dora", "skills": "hand", "shift_id": "day"}
    assert _goals(crew=[*CREW, idle])["even_load"] == 450


def test_a_unit_never_handed_back_is_not_counted_but_missed() -> None:
    """Without U2's dispatch the goals speak of U1 alone, and the schedule is refused for the missing step."""
    report = check(without(tiny_schedule(), "U2/dispatch"))
    assert report.goals["finish"] == round(50 / 24, 2)
    assert {b.rule for b in report.breaches} == {"step_order"}
    assert any("hand-over" in text for text in report.mismatched_goals)


@pytest.mark.parametrize("name", GOALS)
def test_a_goal_stated_otherwise_is_named(name: str) -> None:
    """A figure that flatters or shames by one is found, and the report is not ok though no rule is broken."""
    schedule = tiny_schedule()
    goals = tuple(g.model_copy(update={"value": g.value - 1}) if g.name == name else g for g in schedule.goals)
    report = check(schedule.model_copy(update={"goals": goals}))
    assert report.breaches == ()
    assert [text.startswith(f"goal {name} is stated") for text in report.mismatched_goals] == [True]
    assert not report.ok


def test_a_goal_left_out_or_made_up_is_named() -> None:
    """Every goal is stated, and none that nobody can recompute."""
    schedule = tiny_schedule()
    made_up = GoalValue(name="beauty", value=1.0, bound=None, unit="", proven=True)
    report = check(schedule.model_copy(update={"goals": (*schedule.goals[1:], made_up)}))
    assert len(report.mismatched_goals) == 2


@pytest.mark.parametrize(
    "fields",
    [
        {"delivered_at": at(4, "07:00")},
        {"days_late": 1},
        {"due_at": at(5, "17:00")},
        {"units": {"U1": at(2, "08:00")}},
        {"units": {"U1": at(2, "08:15"), "U2": at(4, "08:00")}},
    ],
)
def test_a_delivery_date_that_is_not_true_is_named(fields: dict[str, Any]) -> None:
    """What a customer is told follows from the dispatches and the order: any other date, unit or lateness is found."""
    schedule = tiny_schedule()
    row = schedule.deliveries[0].model_copy(update=fields)
    assert len(check(schedule.model_copy(update={"deliveries": (row,)})).mismatched_goals) == 1


def test_an_order_without_a_delivery_date_is_named() -> None:
    """Every order with units has a date; a date of no order is none."""
    schedule = tiny_schedule()
    row = schedule.deliveries[0].model_copy(update={"order_id": "O9"})
    assert len(check(schedule.model_copy(update={"deliveries": (row,)})).mismatched_goals) == 2
