"""Waiting times are hours that pass, not differences of what the clock on the wall shows."""

from datetime import datetime, timedelta

import pytest
from tiny_shop import LOTS, MONDAY, SHIFTS, SITE, UNIT, product_times, tiny_shop, weather

from check.tiny import tiny_schedule
from scheduler.check import check_schedule
from scheduler.schedule.schedule import Schedule, Span

EVERY_DAY = ({**SHIFTS[0], "weekdays": "mon tue wed thu fri sat sun"},)


def _on(saturday: datetime) -> tuple[Schedule, dict[str, object]]:
    """The tiny schedule from a Saturday on, in wall-clock times, and the tables for that week."""
    shift = saturday.date() - MONDAY.date()

    def moved(moment: datetime) -> datetime:
        return moment + shift  # wall time of the zone: the offset follows

    schedule = tiny_schedule()
    work = tuple(
        w.model_copy(
            update={
                "spans": tuple(Span(start=moved(s.start), end=moved(s.end)) for s in w.spans),
                "draws": tuple(d.model_copy(update={"loaded_at": moved(d.loaded_at)}) if d.loaded_at else d for d in w.draws),
            }
        )
        for w in schedule.work
    )
    stays = tuple(s.model_copy(update={"start": moved(s.start), "end": moved(s.end)}) for s in schedule.stays)
    start = moved(MONDAY)
    tables = {
        "site": {**SITE, "plan_from": start, "plan_until": start + timedelta(days=11)},
        "units": [{"unit_id": u, **UNIT, "available_from": start} for u in ("U1", "U2")],
        "shifts": EVERY_DAY,
        "lots": [{**row, "arrives_on": start.date(), "expires_on": start.date() + timedelta(days=99)} for row in LOTS],
        "weather": [{**row, "at": row["at"] + shift} for row in weather(16)],  # type: ignore[operator]
    }
    return schedule.model_copy(update={"work": work, "stays": stays}), tables


def _waits_for_coat_2(schedule: Schedule, tables: dict[str, object], **hours: float) -> set[str]:
    """Rules that U1 breaks with these times on the sheet; U2 follows two days later and sees no change of the clocks."""
    report = check_schedule(tiny_shop(**{**tables, "product_times": product_times(**hours)}), schedule)
    return {b.rule for b in report.breaches if b.work_ids[0].startswith("U1")}


@pytest.mark.parametrize(
    ("saturday", "hours"),
    [(datetime(2025, 10, 25), 17.25), (datetime(2026, 3, 28), 15.25), (datetime(2025, 6, 7), 16.25)],
    ids=["clocks go back", "clocks go forward", "no change"],
)
def test_a_night_with_a_change_of_the_clocks_is_as_long_as_it_is(saturday: datetime, hours: float) -> None:
    """From Saturday 13:45 to Sunday 06:00 pass 16.25 h, one more in October and one less in March: the window is exact."""
    schedule, tables = _on(saturday)
    assert _waits_for_coat_2(schedule, tables) == set()
    assert _waits_for_coat_2(schedule, tables, recoat_min_h=hours) == set()
    assert _waits_for_coat_2(schedule, tables, recoat_max_h=hours) == set()
    assert _waits_for_coat_2(schedule, tables, recoat_min_h=hours + 0.01) == {"recoat_window"}
    assert _waits_for_coat_2(schedule, tables, recoat_max_h=hours - 0.01) == {"recoat_window"}


def test_the_length_of_work_over_the_change_is_time_worked() -> None:
    """An hour of work from 01:30 to 02:30 winter time takes two hours: one too many, though the clock shows one."""
    schedule, tables = _on(datetime(2025, 10, 25))
    tables["shifts"] = ({"shift_id": "day", "weekdays": "mon tue wed thu fri sat sun", "starts": "00:00", "ends": "00:00"},)
    night = Span(start=datetime.fromisoformat("2025-10-26T01:30+02:00"), end=datetime.fromisoformat("2025-10-26T02:30+01:00"))
    work = tuple(w.model_copy(update={"spans": (night,)}) if w.work_id == "U1/coat-2" else w for w in schedule.work)
    report = check_schedule(tiny_shop(**tables), schedule.model_copy(update={"work": work}))
    assert [b.amount for b in report.breaches if b.rule == "shift_hours"] == [60.0]
