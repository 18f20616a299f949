"""Steel behind the air indoors and below it on clear nights."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.physics.ranges import OutOfRange
from scheduler.physics.steel_temperature import (
    plate_time_constant_h,
    sky_depression_k,
    sky_emissivity,
    steel_indoors_c,
    steel_outdoors_c,
)

STEFAN_BOLTZMANN = 5.670374419e-8


@settings(max_examples=50, deadline=None)
@given(st.floats(-20.0, 45.0), st.floats(0.0, 20.0), st.floats(2.0, 40.0), st.floats(0.0, 1.0))
def test_the_balance_of_the_plate_closes(air_c: float, spread_k: float, film: float, emissivity: float) -> None:
    """Heat gained from the air equals heat lost to the sky at the temperature found, and steel is never warmer than air."""
    dew_c = min(air_c - spread_k, 34.0)
    depression = sky_depression_k(air_c, dew_c, film, emissivity)
    air = air_c + 273.15
    lost = emissivity * STEFAN_BOLTZMANN * ((air - depression) ** 4 - sky_emissivity(dew_c) * air**4)
    assert film * depression == pytest.approx(lost, abs=1e-6)
    assert depression >= -1e-9


def test_dry_calm_nights_are_the_worst() -> None:
    """Drier air and less wind both make the steel colder."""
    assert sky_depression_k(15.0, 0.0) > sky_depression_k(15.0, 12.0)
    assert sky_depression_k(15.0, 5.0, 5.0) > sky_depression_k(15.0, 5.0, 15.0)
    assert sky_depression_k(15.0, 5.0, 5.0, 0.0) == pytest.approx(0.0)


def test_outdoor_steel_is_colder_by_night_only_when_it_has_no_lag() -> None:
    """Without mass: air temperature by day, the depression below it by night."""
    air_c, dew_c = np.array([12.0, 12.0]), np.array([6.0, 6.0])
    steel_c = steel_outdoors_c(air_c, dew_c, np.array([True, False]), 10.0)
    assert steel_c == pytest.approx([12.0 - sky_depression_k(12.0, 6.0, 10.0), 12.0])


def test_lag_keeps_the_morning_cold_and_does_not_keep_the_evening_warm() -> None:
    """After a night the plate is still colder than the air; at dusk it counts as cold at once."""
    air_c, dew_c = np.full(4, 12.0), np.full(4, 6.0)
    night = np.array([True, False, False, True])
    instant = steel_outdoors_c(air_c, dew_c, night, 10.0)
    lagging = steel_outdoors_c(air_c, dew_c, night, 10.0, 1.0)
    assert (lagging <= instant).all()
    assert lagging[1] < lagging[2] < 12.0
    assert lagging[3] == instant[3]


def test_very_dry_air_takes_the_clearest_sky_that_the_formula_knows() -> None:
    """A dew point of -60 °C in a series counts as -38 °C; asked for directly it is refused."""
    air_c, night = np.array([-20.0]), np.array([True])
    assert steel_outdoors_c(air_c, np.array([-60.0]), night) == steel_outdoors_c(air_c, np.array([-38.0]), night)
    with pytest.raises(OutOfRange, match="sky's emissivity"):
        sky_emissivity(-60.0)


def test_sky_emissivity_grows_with_moisture_and_stays_below_one() -> None:
    """Over the whole range that is accepted the formula rises and is an emissivity."""
    values = sky_emissivity(np.linspace(-38.0, 35.0, 200))
    assert (np.diff(values) > 0).all()
    assert 0.0 < values[0] < values[-1] <= 1.0


def test_a_step_of_the_air_is_followed_exponentially() -> None:
    """After the air jumps by 10 K the steel has 1 - exp(-n/tau) of it n hours later: the exact solution, not Euler's."""
    air_c = np.array([10.0] + [20.0] * 6)
    steel_c = steel_indoors_c(air_c, 2.0)
    assert steel_c[1:] == pytest.approx(20.0 - 10.0 * np.exp(-np.arange(6) / 2.0))


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(-10.0, 40.0), min_size=1, max_size=40).map(np.array), st.floats(0.0, 50.0))
def test_steel_stays_between_the_extremes_of_the_air(air_c: np.ndarray, time_constant_h: float) -> None:
    """A lag can neither heat nor cool beyond what the air has been."""
    steel_c = steel_indoors_c(air_c, time_constant_h)
    assert steel_c.shape == air_c.shape
    assert air_c.min() - 1e-9 <= steel_c.min() <= steel_c.max() <= air_c.max() + 1e-9


def test_no_mass_is_air_temperature_and_the_input_is_left_alone() -> None:
    """A time constant of 0 copies the air; changing the answer does not change the weather."""
    air_c = np.array([10.0, 20.0])
    steel_c = steel_indoors_c(air_c, 0.0)
    steel_c[0] = 0.0
    assert air_c.tolist() == [10.0, 20.0]


def test_two_faces_halve_the_time_constant() -> None:
    """A plate open on both sides follows twice as fast; a third face is refused."""
    assert plate_time_constant_h(6.0, 8.0, 2) == pytest.approx(plate_time_constant_h(6.0, 8.0) / 2.0)
    with pytest.raises(OutOfRange, match="faces"):
        plate_time_constant_h(6.0, 8.0, 3)
    with pytest.raises(OutOfRange, match="time constant"):
        steel_indoors_c(np.array([10.0]), -1.0)
