"""Warm-up and cool-down behave as heat does, and round to the careful side."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.physics.finite_cylinder import TERMS, cylinder_series, wall_series
from scheduler.physics.ranges import OutOfRange
from scheduler.physics.warm_up import Cartridge, excess, film_coefficient_w_m2k, mean_soak_h, out_of_warmer_min, soak_h

BODY = Cartridge(30.0, 250.0, 0.20, 1100.0, 1900.0)


@settings(max_examples=25, deadline=None)
@given(st.floats(0.0, 26.0), st.floats(0.5, 10.0), st.floats(3.0, 20.0))
def test_core_and_mean_have_arrived_when_the_soak_ends(start_c: float, above_k: float, film: float) -> None:
    """At the hours returned the temperature is reached, a second earlier it is not: rounded up, and tightly."""
    goal_c = 26.667
    warmer_c = goal_c + above_k
    left = (warmer_c - goal_c) / (warmer_c - start_c)
    core_s = 3600.0 * soak_h(BODY, film, start_c, warmer_c, goal_c)
    assert excess(BODY, film, core_s, "core") <= left < excess(BODY, film, core_s - 1.0, "core")
    mean_s = 3600.0 * mean_soak_h(BODY, film, start_c, warmer_c, goal_c)
    assert excess(BODY, film, mean_s, "mean") <= left < excess(BODY, film, mean_s - 1.0, "mean")


@settings(max_examples=25, deadline=None)
@given(st.floats(-5.0, 26.0), st.floats(27.0, 32.0))
def test_minutes_on_the_bench_never_pass_the_floor(bench_c: float, from_c: float) -> None:
    """At the minutes returned the mean is still at or above the floor; a second later it is below: rounded down."""
    floor_c = 26.667
    minutes = out_of_warmer_min(BODY, 8.0, from_c, bench_c, floor_c)
    left = (floor_c - bench_c) / (from_c - bench_c)
    assert excess(BODY, 8.0, 60.0 * minutes, "mean") >= left
    assert excess(BODY, 8.0, 60.0 * minutes + 1.0, "mean") < left


def test_colder_starts_take_longer_and_the_core_lags_the_mean() -> None:
    """Hours grow as the start gets colder; the core is always last."""
    hours = [soak_h(BODY, 8.0, start, 29.444, 26.667) for start in (20.0, 15.0, 10.0, 0.0)]
    assert hours == sorted(hours)
    assert mean_soak_h(BODY, 8.0, 10.0, 29.444, 26.667) < hours[2]


def test_a_warm_cartridge_needs_no_soak_and_a_cold_one_no_bench() -> None:
    """Already at the goal: 0 h. Already below the floor: 0 min, however warm the bench."""
    assert soak_h(BODY, 8.0, 27.0, 29.444, 26.667) == 0.0
    assert out_of_warmer_min(BODY, 8.0, 26.0, 30.0, 26.667) == 0.0


def test_a_bench_at_the_floor_sets_no_limit() -> None:
    """A cartridge above the floor never falls below it on a bench at the floor."""
    assert out_of_warmer_min(BODY, 8.0, 29.444, 26.667, 26.667) == math.inf


def test_a_warmer_below_the_goal_is_refused() -> None:
    """A warmer at 25 °C never brings a core to 26.667 °C, even one that starts above it: the set point is the mistake."""
    with pytest.raises(OutOfRange, match=r"warmer, °C is 25, outside above the 26\.667"):
        soak_h(BODY, 8.0, 10.0, 25.0, 26.667)
    with pytest.raises(OutOfRange):
        soak_h(BODY, 8.0, 28.0, 26.667, 26.667)


def test_a_soak_beyond_a_thousand_hours_is_refused() -> None:
    """A block a metre wide in still air: the answer is a refusal, not an endless search."""
    with pytest.raises(OutOfRange, match="time to the temperature wanted"):
        soak_h(Cartridge(2000.0, 4000.0, 0.20, 1100.0, 1900.0), 8.0, 10.0, 29.444, 26.667)


@pytest.mark.parametrize("biot", [0.01, 0.3, 5.0, 500.0])
def test_roots_ascend_and_satisfy_their_equations(biot: float) -> None:
    """Sixty roots a direction, one in each period, so none is skipped."""
    cylinder, wall = cylinder_series(biot), wall_series(biot)
    gaps = (cylinder.root[1:] - cylinder.root[:-1], wall.root[1:] - wall.root[:-1])
    assert len(cylinder.root) == len(wall.root) == TERMS
    assert all(2.5 < gap < 4.0 for direction in gaps for gap in direction)
    assert [z * math.tan(z) for z in wall.root[:5]] == pytest.approx([biot] * 5, rel=1e-6)


@pytest.mark.parametrize("biot", [0.0, -1.0, 1e5, math.nan])
def test_a_biot_number_outside_the_series_is_refused(biot: float) -> None:
    """Neither direction answers for a Biot number that its series cannot serve."""
    for series in (cylinder_series, wall_series):
        with pytest.raises(OutOfRange, match="Biot number"):
            series(biot)


def test_a_cartridge_without_a_size_is_refused() -> None:
    """Every property of a cartridge must be positive, and the refusal says which is not."""
    with pytest.raises(OutOfRange, match="cartridge length_mm is 0"):
        Cartridge(30.0, 0.0, 0.20, 1100.0, 1900.0)


def test_film_coefficient_grows_with_difference_and_needs_one() -> None:
    """A colder cartridge in the same air exchanges heat faster; at equal temperatures there is nothing to compute."""
    assert film_coefficient_w_m2k(10.0, 29.0, 60.0) > film_coefficient_w_m2k(25.0, 29.0, 60.0)
    assert film_coefficient_w_m2k(10.0, 29.0, 60.0, 0.9) > film_coefficient_w_m2k(10.0, 29.0, 60.0, 0.1)
    with pytest.raises(OutOfRange, match="difference of surface and air"):
        film_coefficient_w_m2k(20.0, 20.0, 60.0)
