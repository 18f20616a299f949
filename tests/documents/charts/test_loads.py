"""Loads of crew, air and warmers, worked by hand on the sample."""

from datetime import UTC, datetime, timedelta

import pytest

from documents.sample import MONDAY, local, sample_schedule, sample_shop
from scheduler.documents.charts.loads import (
    Level,
    air_load,
    bay_load,
    crew_load,
    level,
    mean_air_l_s,
    people_load,
    place_load,
    warmer_load,
)
from scheduler.physics.compressed_air import delivered_l_s

SHOP, SCHEDULE = sample_shop(), sample_schedule()
T0 = datetime(2025, 1, 1, tzinfo=UTC)


def at(of: Level, moment: datetime) -> float:
    """Value of a level at a moment."""
    return next((v for m, v in zip(reversed(of.moments), reversed(of.values), strict=True) if m <= moment), 0.0)


def test_changes_at_one_moment_count_as_one() -> None:
    """A step that starts when another ends leaves no notch in the line."""
    changes = [(T0, 2.0), (T0 + timedelta(hours=1), -2.0), (T0 + timedelta(hours=1), 2.0), (T0 + timedelta(hours=2), -2.0)]
    assert level(changes) == Level((T0, T0 + timedelta(hours=2)), (2.0, 0.0))


def test_crew_load_counts_people_at_work_and_on_shift() -> None:
    """At 10:00 on Monday two of four abrade; in the break nobody is there; Dan is away on Wednesday."""
    load = crew_load(SHOP, SCHEDULE)
    assert (at(load.in_use, local(MONDAY, "10:00")), at(load.there, local(MONDAY, "10:00"))) == (2, 4)
    assert at(load.there, local(MONDAY, "12:15")) == 0
    assert at(load.there, local(MONDAY + timedelta(days=2), "10:00")) == 3


def test_mean_air_is_the_thirstiest_row_times_its_duty() -> None:
    """A grinder takes 8 L/s half of the time, a gun 3 L/s for 60 %; a lift and a wash take none."""
    by_name = {work.name: mean_air_l_s(SHOP, work) for work in SCHEDULE.work if work.unit_id == "U1"}
    assert (by_name["abrade"], by_name["coat-1"]) == (4.0, pytest.approx(1.8))
    assert by_name["wash"] == by_name["receive"] == 0.0


def test_air_load_sums_demand_against_delivery() -> None:
    """Two grinders at once take 8 L/s of the compressor's delivery in sea-level terms."""
    load = air_load(SHOP, SCHEDULE)
    assert at(load.in_use, local(MONDAY, "10:00")) == 8.0
    assert at(load.there, local(MONDAY, "10:00")) == pytest.approx(delivered_l_s(14, SHOP.site.altitude_m))


def test_slots_are_in_use_from_loading_until_the_step_ends() -> None:
    """Two units with two coats of three cartridges: twelve overnight, six after the first coat, none after the second."""
    load, tuesday = warmer_load(SHOP, SCHEDULE), MONDAY + timedelta(days=1)
    slots = [at(load.in_use, local(day, clock)) for day, clock in ((MONDAY, "15:00"), (MONDAY, "15:30"), (tuesday, "11:00"))]
    assert slots == [0, 12, 6]
    assert at(load.there, local(MONDAY, "15:30")) == 24


def test_a_warmer_that_is_shut_is_not_there() -> None:
    """A closure takes its slots away; two closures that overlap take them once."""
    days = (("2025-10-21", "2025-10-23"), ("2025-10-22", "2025-10-24"))
    closure = {"what": "equipment", "which": "W1", "reason": "repair"}
    shut = [closure | {"closed_from": f"{a}T00:00+02:00", "closed_until": f"{b}T00:00+02:00"} for a, b in days]
    shop = type(SHOP).model_validate(SHOP.model_dump() | {"closures": shut})
    there = warmer_load(shop, SCHEDULE).there
    assert [at(there, local(MONDAY + timedelta(days=d), "10:00")) for d in (0, 1, 2, 3, 4)] == [24, 0, 0, 0, 24]


def test_places_of_a_bay_are_taken_while_a_unit_stands_in_them() -> None:
    """At 10:00 on Monday two units stand in the two places of the hall; the canopy is shut on Friday and not there."""
    monday, friday = local(MONDAY, "10:00"), local(MONDAY + timedelta(days=4), "10:00")
    load, hall = bay_load(SHOP, SCHEDULE), place_load(SHOP, SCHEDULE, SHOP.bay_by_id["B1"])
    assert (at(load.in_use, monday), at(load.there, monday), at(load.there, friday)) == (2, 5, 4)
    assert (at(hall.in_use, monday), at(hall.there, monday)) == (2, 2)


def test_the_load_of_some_people_leaves_out_the_others() -> None:
    """At 10:00 on Monday Ana and Cleo abrade; of Ana and Ben one is at work."""
    load = people_load(SHOP, SCHEDULE, [SHOP.person_by_id[name] for name in ("ana", "ben")])
    assert (at(load.in_use, local(MONDAY, "10:00")), at(load.there, local(MONDAY, "10:00"))) == (1, 2)
