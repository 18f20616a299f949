"""When a step may start: in one piece, in allowed hours, dry until the film can take weather, warm at the bench."""

from datetime import timedelta
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tiny_shop import COAT_BAY, METHODS, MONDAY, ORDER, PREPARE_BAY, SITE, UNIT, tiny_shop, weather, with_row

from scheduler.activities.build import build_network
from scheduler.activities.flags import mask_of
from scheduler.activities.masks import bits
from scheduler.activities.soaking import cartridge_of
from scheduler.activities.windows import all_through, coolest_bench_c
from scheduler.physics.warm_up import out_of_warmer_min

DAY = 38
"""Quarters from 06:00 to 16:00 without the break from 12:00 to 12:30; the break lies after the 24th."""


def _starts(rule: str, name: str, bay_class: int, **tables: Any) -> list[int]:
    built = build_network(tiny_shop(**tables))
    return bits(next(a for a in built.network.activities if a.name == name).windows[rule][bay_class])


def _hours(changes: dict[int, dict[str, float]]) -> list[dict[str, object]]:
    """Weather in which some hours, counted from 06:00 on Monday, are changed."""
    rows = weather()
    first = next(i for i, row in enumerate(rows) if row["at"] == MONDAY)
    return [{**row, **changes.get(i - first, {})} for i, row in enumerate(rows)]


@settings(max_examples=60, deadline=None)
@given(flags=st.lists(st.booleans(), min_size=1, max_size=40), slots=st.integers(1, 6))
def test_a_step_needs_all_its_slots(flags: list[bool], slots: int) -> None:
    """A start counts if the slot and those after it are allowed, none past the end."""
    starts = all_through(np.array(flags), slots)
    assert bits(mask_of(starts)) == [i for i in range(len(flags) - slots + 1) if all(flags[i : i + slots])]


def test_work_in_one_piece_ends_before_the_break_and_the_night() -> None:
    """A coat of an hour starts no later than 11:00 before the break and 15:00 before the night."""
    day = [s for s in _starts("shift_hours", "coat-1", 2) if s < DAY]
    assert day == [*range(21), *range(24, 35)]


def test_work_that_may_pause_starts_at_any_time_but_has_to_end() -> None:
    """Abrading takes an hour and may pause: every slot but the last three of the horizon."""
    slots = build_network(tiny_shop()).network.slots
    assert _starts("shift_hours", "abrade", 1) == list(range(slots - 3))


def test_an_hour_that_is_too_damp_stops_what_would_touch_it() -> None:
    """From 09:00 to 10:00 the steel is 2 K above the dew point: a coat of an hour with 3 h to go before it can take weather.

    Started at 06:00 it ends at 07:00 and is safe at 10:00, after the damp hour has begun. So the first is at 10:00.
    """
    damp = _hours({3: {"dew_point_c": 18.0}})
    assert _starts("weather_window", "coat-1", 2, weather=damp)[0] == 16
    assert _starts("weather_window", "coat-1", 2)[0] == 0


def test_rain_counts_outdoors_only_and_also_after_the_step() -> None:
    """Rain from 12:00 to 13:00: under a roof all day is good; outdoors the film must be safe by noon, or start after it."""
    wet = {"weather": _hours({6: {"rain_mm": 1.0}})}
    outdoors = [PREPARE_BAY, {**COAT_BAY, "outdoor": True, "heated_to_c": None}]
    # ended at 08:45 it is safe by 12:00 or later, as steel under the sky is colder than 20 °C
    dry = [s for s in _starts("weather_window", "coat-1", 2, **wet, bays=outdoors) if s < DAY]
    assert dry[0] == 0 or dry[0] >= 26
    assert max(s for s in dry if s < 24) <= 8
    assert min(s for s in dry if s > 8) == 26
    assert [s for s in _starts("weather_window", "coat-1", 2, **wet) if s < DAY] == list(range(DAY))


def test_a_method_has_limits_of_its_own_in_the_yard() -> None:
    """The truck is not unloaded in a wind of more than 12 m/s; 07:00 to 08:00 blows 13."""
    rows = with_row(METHODS, "step", "receive", wind_max_m_s=12)
    receive = _starts("weather_window", "receive", 0, methods=rows, weather=_hours({1: {"wind_m_s": 13.0}}))
    assert [s for s in receive if s < 12] == [0, 1, 2, 8, 9, 10, 11]


@pytest.mark.parametrize("needed_min", [4.0, 10.68, 25.0])
def test_the_coolest_bench_is_just_warm_enough(needed_min: float) -> None:
    """At that air a cartridge stays sprayable long enough, a tenth of a degree colder it does not."""
    cartridge = cartridge_of(tiny_shop().product_by_id["lining"])
    bench_c = coolest_bench_c(cartridge, 8.0, 29.444, 26.667, needed_min)
    assert out_of_warmer_min(cartridge, 8.0, 29.444, bench_c, 26.667) >= needed_min
    assert out_of_warmer_min(cartridge, 8.0, 29.444, bench_c - 0.1, 26.667) < needed_min


def test_a_bay_too_cold_for_cartridges_on_the_bench_is_no_place_to_spray() -> None:
    """With 16 min outside the warmer the bench must be warmer than 10 °C (10.68 min there, references section 3)."""
    cold = {"bays": [PREPARE_BAY, {**COAT_BAY, "heated_to_c": 10}]}
    rows = [{**row, "air_temp_c": 8.0, "dew_point_c": -5.0} for row in weather()]
    short, long = ({**SITE, "spray_load_min": minutes} for minutes in (10, 11))
    assert _starts("weather_window", "coat-1", 2, **cold, weather=rows, site=short)
    assert not _starts("weather_window", "coat-1", 2, **cold, weather=rows, site=long)


def test_release_rounds_inward() -> None:
    """Available at 07:05, so received from 07:15; must leave by 09:10 on Friday, so the hour of dispatch starts by 08:00."""
    friday = MONDAY + timedelta(days=4, hours=3, minutes=10)
    unit = {"unit_id": "U1", **UNIT, "available_from": MONDAY + timedelta(minutes=65), "must_leave_by": friday}
    built = build_network(tiny_shop(units=[unit], orders=[ORDER]))
    windows = {a.name: bits(a.windows["release"][0]) for a in built.network.activities if a.stay < 0}
    assert windows["receive"][0] == 5
    assert windows["dispatch"][-1] == 4 * DAY + 8


def test_a_pin_is_one_slot_or_none() -> None:
    """A pinned start is a single slot; one in the break is no slot at all, and in another bay nothing fits."""

    def pinned(**pin: object) -> list[int]:
        row = {"unit_id": "U1", "step": "coat-1", "start_at": MONDAY + timedelta(hours=2), **pin}
        return _starts("pinned_work", "coat-1", 2, pinned=[row])

    assert pinned() == [8]
    assert pinned(bay_id="B2") == [8]
    assert pinned(bay_id="B1") == []
    assert pinned(start_at=MONDAY + timedelta(hours=6)) == []
