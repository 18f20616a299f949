"""Waits on the work axis: a minimum is never up too early, a maximum never too late."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.activities.curves import after_minutes, as_curve, closes_after_min, cured_after_min, within_minutes
from scheduler.activities.time_grid import TimeGrid
from scheduler.physics.curing import SheetTimes
from scheduler.physics.weather_window import BayClimate

START = datetime(2026, 6, 1, tzinfo=UTC)
QUICK = settings(max_examples=40, deadline=None)
SHEET = SheetTimes((5.0, 10.0, 20.0, 30.0), (48.0, 24.0, 8.0, 4.0))
"""The table of the published worked example (interpolation of ln t over T)."""


def _grid(real: list[int], minutes: int = 15) -> TimeGrid:
    return TimeGrid(START, minutes, np.array(real, dtype=np.int64), ZoneInfo("UTC"))


def _climate(steel_c: list[float]) -> BayClimate:
    temp_c, zero = np.array(steel_c), np.zeros(len(steel_c))
    return BayClimate(START, temp_c, temp_c, temp_c - 10, zero + 50, zero, zero, zero.astype(bool))


@pytest.mark.parametrize(("temp_c", "hours"), [(12.0, 19.2658), (15.0, 13.8564), (25.0, 5.65685)])
def test_a_wait_at_one_temperature_is_that_of_the_table(temp_c: float, hours: float) -> None:
    """References section 5: the table read log-linearly, as first and last start of an axis of minutes of work."""
    grid, climate = _grid(list(range(0, 24 * 60, 5)), 1), _climate([temp_c] * 48)
    end = 100
    from_min = float(grid.end_min[end])
    assert float(cured_after_min(grid, climate, SHEET)[end]) == pytest.approx(from_min + hours * 60, abs=0.1)
    assert float(closes_after_min(grid, climate, SHEET)[end]) == pytest.approx(from_min + hours * 60, abs=0.1)


def test_a_wait_through_a_day_is_summed_over_its_hours() -> None:
    """References section 5: T = 15 + 6 sin(2pi(h - 9)/24), from 06:00 the window closes after 10.5759 h, not 13.8564 h."""
    climate = _climate([15 + 6 * np.sin(2 * np.pi * (h - 9) / 24) for h in range(48)])
    grid = _grid([6 * 4 - 1, *range(40, 100)])
    closes_min = float(closes_after_min(grid, climate, SHEET)[1])
    assert (closes_min - 6 * 60) / 60 == pytest.approx(10.5759, abs=1e-4)
    latest = as_curve(grid.last_until(closes_after_min(grid, climate, SHEET)))[1]
    earliest = as_curve(grid.first_from(cured_after_min(grid, climate, SHEET)))[1]
    # 16:34 lies between the slots of 16:30 and 16:45
    assert (grid.start_min[latest], grid.start_min[earliest]) == (16.5 * 60, 16.75 * 60)


def test_a_time_that_is_not_up_when_the_weather_ends_is_never_up_as_a_minimum_and_closes_with_it_as_a_maximum() -> None:
    """Past the last known hour nothing may be planned."""
    grid, climate = _grid([0]), _climate([20.0] * 6)
    assert np.isinf(cured_after_min(grid, climate, SHEET)[1])
    assert closes_after_min(grid, climate, SHEET)[1] == 6 * 60


def test_steel_colder_than_the_table_does_not_cure_and_the_window_runs_as_in_its_coldest_row() -> None:
    """Outside the table nothing is guessed in the direction that flatters."""
    grid, climate = _grid([0], 60), _climate([2.0] * 60)
    assert np.isinf(cured_after_min(grid, climate, SHEET)[1])
    assert closes_after_min(grid, climate, SHEET)[1] == pytest.approx(60 + 48 * 60)


@QUICK
@given(real=st.sets(st.integers(0, 200), min_size=1, max_size=50), wait=st.integers(0, 2000))
def test_minutes_round_up_as_a_minimum_and_down_as_a_maximum(real: set[int], wait: int) -> None:
    """Against every slot: the first start at or after the wait, the last start at or before it."""
    grid = _grid(sorted(real))
    starts = grid.start_min.tolist()
    earliest, latest = after_minutes(grid, wait), within_minutes(grid, wait)
    for end, ended in enumerate(grid.end_min.tolist()):
        assert earliest[end] == next((i for i, x in enumerate(starts) if x >= ended + wait), len(starts))
        assert latest[end] == max((i for i, x in enumerate(starts) if x <= ended + wait), default=-1)


@QUICK
@given(temps=st.lists(st.floats(-5, 45), min_size=72, max_size=72), real=st.sets(st.integers(0, 200), min_size=2, max_size=50))
def test_every_curve_rises_and_the_minimum_is_never_before_the_maximum_of_one_table(temps: list[float], real: set[int]) -> None:
    """A later end never makes anything ready earlier; the same table is up as a minimum only when it is as a maximum."""
    grid, climate = _grid(sorted(real)), _climate(temps)
    cured, closed = cured_after_min(grid, climate, SHEET), closes_after_min(grid, climate, SHEET)
    assert np.all(cured[1:] >= cured[:-1])
    assert np.all(closed[1:] >= closed[:-1])
    known = np.isfinite(cured)
    assert np.all(cured[known] >= closed[known] - 1e-3)
