"""Sheet times over changing temperatures: careful continuation, finishing places, validation."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.physics.curing import SheetTimes, finish_index, progress, rate_per_h, sheet_h
from scheduler.physics.ranges import OutOfRange

SHEET = SheetTimes((5.0, 10.0, 20.0, 30.0), (48.0, 24.0, 8.0, 4.0))
temps = st.lists(st.floats(-20.0, 45.0), min_size=1, max_size=60).map(np.array)


def test_minimum_times_stall_in_the_cold_and_are_not_hurried_by_heat() -> None:
    """Below the table no cure at all; above it the hottest row's rate and no more."""
    rates = rate_per_h(SHEET, np.array([4.9, 5.0, 30.0, 45.0]), "minimum")
    assert rates == pytest.approx([0.0, 1 / 48, 1 / 4, 1 / 4])


def test_maximum_times_close_in_the_cold_too_and_faster_in_heat() -> None:
    """Below the table the coldest row's rate; 10 K above it ln t goes on along the last two rows, so twice as fast again."""
    rates = rate_per_h(SHEET, np.array([-10.0, 5.0, 30.0, 40.0]), "maximum")
    assert rates == pytest.approx([1 / 48, 1 / 48, 1 / 4, 1 / 2])


def test_one_row_has_no_slope() -> None:
    """A single row holds throughout a maximum, and from its temperature up for a minimum."""
    single = SheetTimes((20.0,), (8.0,))
    assert rate_per_h(single, np.array([0.0, 20.0, 40.0]), "maximum") == pytest.approx([1 / 8] * 3)
    assert rate_per_h(single, np.array([19.0, 20.0, 40.0]), "minimum") == pytest.approx([0.0, 1 / 8, 1 / 8])
    assert sheet_h(single, 20.0) == pytest.approx(8.0)


@settings(max_examples=50, deadline=None)
@given(st.floats(-60.0, 80.0))
def test_a_minimum_never_runs_faster_than_a_maximum(temp_c: float) -> None:
    """On the same table the two bounds keep to their sides at every temperature, and agree within it."""
    least, most = rate_per_h(SHEET, temp_c, "minimum"), rate_per_h(SHEET, temp_c, "maximum")
    assert least <= most
    assert (least == most) or not 5.0 <= temp_c <= 30.0


def test_sheet_times_are_not_read_outside_the_table() -> None:
    """A time is refused below and above the rows, and for nan."""
    for temp_c in (4.9, 30.1, math.nan):
        with pytest.raises(OutOfRange, match="outside 5 to 30"):
            sheet_h(SHEET, temp_c)


@pytest.mark.parametrize(
    ("temp_c", "hours", "says"),
    [
        ((), (), "as many hours"),
        ((5.0, 10.0), (48.0,), "as many hours"),
        ((10.0, 5.0), (24.0, 48.0), "must ascend"),
        ((10.0, 10.0), (24.0, 24.0), "must ascend"),
        ((5.0, 10.0), (24.0, 48.0), "must not grow"),
        ((5.0, 10.0), (24.0, 0.0), "above 0"),
        ((5.0, math.nan), (24.0, 12.0), "nan"),
    ],
)
def test_a_table_that_cannot_be_is_refused(temp_c: tuple[float, ...], hours: tuple[float, ...], says: str) -> None:
    """Each fault of a table is a ValueError that says which."""
    with pytest.raises(ValueError, match=says):
        SheetTimes(temp_c, hours)


def test_a_constant_day_finishes_on_the_whole_hour() -> None:
    """8 h at 20 °C from any start end exactly 8 h later, without float noise that would cost a slot."""
    used = progress(SHEET, np.full(48, 20.0), 1.0, "minimum")
    starts = np.arange(0.0, 40.0, 0.25)
    assert (finish_index(used, starts) == starts + 8.0).all()
    assert finish_index(used, 40.0) == 48.0
    assert finish_index(used, 40.01) == math.inf


@pytest.mark.parametrize("hours", [3.0, 7.0, 11.0, 12.0, 13.0, 49.0])
def test_times_that_are_no_binary_fraction_also_finish_on_the_hour(hours: float) -> None:
    """Adding 1/h up h times misses 1 by float noise; the place is the whole hour all the same, even at the very end."""
    used = progress(SheetTimes((20.0,), (hours,)), np.full(int(hours), 20.0), 1.0, "minimum")
    assert finish_index(used, 0.0) == hours


@pytest.mark.parametrize("hours", [3, 7, 11, 12, 13, 49])
def test_float_noise_does_not_wait_for_the_morning(hours: int) -> None:
    """Cured to within float noise as the night begins is cured, not left until the steel is warm again."""
    temp_c = np.array([20.0] * hours + [2.0] * 10 + [20.0])
    assert finish_index(progress(SheetTimes((20.0,), (float(hours),)), temp_c, 1.0, "minimum"), 0.0) == hours


def test_a_cold_night_stops_a_minimum() -> None:
    """4 h at 20 °C, 10 h at 2 °C, then 20 °C: the 8 h are full after 18, and the half at 4, before the night."""
    used = progress(SHEET, np.array([20.0] * 4 + [2.0] * 10 + [20.0] * 10), 1.0, "minimum")
    assert finish_index(used, 0.0) == 18.0
    assert finish_index(used, 0.0, 0.5) == 4.0
    assert finish_index(used, 7.0) == 22.0


@settings(max_examples=50, deadline=None)
@given(temps, st.floats(0.0, 1.0), st.floats(0.01, 2.0))
def test_finish_is_the_first_place_where_the_share_is_used(temp_c: np.ndarray, at: float, fraction: float) -> None:
    """At the place returned the share has grown by the fraction; infinite exactly when the whole rest is not enough."""
    used = progress(SHEET, temp_c, 1.0, "maximum")
    start = at * len(temp_c)
    index = finish_index(used, start, fraction)
    grid = np.arange(len(used))
    if math.isinf(index):
        assert used[-1] - np.interp(start, grid, used) < fraction
    else:
        assert index >= start - 1e-6
        assert np.interp(index, grid, used) - np.interp(start, grid, used) == pytest.approx(fraction, abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(temps)
def test_starting_later_never_finishes_earlier(temp_c: np.ndarray) -> None:
    """Finishing places do not fall as the start moves on; insertion and windows rely on it."""
    used = progress(SHEET, temp_c, 1.0, "minimum")
    finish = finish_index(used, np.linspace(0.0, len(temp_c), 50), 0.2)
    assert (finish[1:] >= finish[:-1]).all()


def test_shorter_steps_split_the_same_progress() -> None:
    """Four quarter-hours at a temperature use what the hour uses."""
    hourly = progress(SHEET, np.array([12.0, 25.0]), 1.0, "minimum")
    quarters = progress(SHEET, np.repeat([12.0, 25.0], 4), 0.25, "minimum")
    assert quarters[::4] == pytest.approx(hourly)


@pytest.mark.parametrize(("start", "fraction"), [(-0.1, 1.0), (2.1, 1.0), (math.nan, 1.0), (0.0, 0.0)])
def test_a_start_outside_the_series_is_refused(start: float, fraction: float) -> None:
    """A place before, after or nowhere in the series has no finish; nor has a share of nothing."""
    with pytest.raises(OutOfRange):
        finish_index(progress(SHEET, np.array([20.0, 20.0]), 1.0, "minimum"), start, fraction)
