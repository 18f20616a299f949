"""Dew point and humidity as a pair of inverse functions that refuse what they do not cover."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.physics.psychrometrics import dew_margin_k, dew_point_c, rh_pct
from scheduler.physics.ranges import OutOfRange

air = st.floats(-40.0, 55.0)
humidity = st.floats(1.0, 100.0)


@settings(max_examples=50, deadline=None)
@given(air, humidity)
def test_humidity_comes_back_from_the_dew_point(air_c: float, rh: float) -> None:
    """The two functions invert each other, and the dew point never exceeds the air."""
    dew_c = dew_point_c(air_c, rh)
    assert dew_c <= air_c + 1e-9
    assert rh_pct(air_c, dew_c) == pytest.approx(rh, rel=1e-9)


@settings(max_examples=50, deadline=None)
@given(air, st.floats(1.0, 99.0))
def test_moister_air_has_a_higher_dew_point(air_c: float, rh: float) -> None:
    """One more percent of humidity raises the dew point."""
    assert dew_point_c(air_c, rh + 1.0) > dew_point_c(air_c, rh)


def test_arrays_and_floats_give_the_same_numbers() -> None:
    """An array is answered by an array of the same values that single floats give, a float by a plain float."""
    air_c, rh = np.array([5.0, 20.0, 35.0]), np.array([80.0, 50.0, 75.0])
    dew_c = dew_point_c(air_c, rh)
    assert dew_c.tolist() == [dew_point_c(float(a), float(h)) for a, h in zip(air_c, rh, strict=True)]
    assert type(dew_point_c(20.0, 50.0)) is float
    assert dew_margin_k(air_c, dew_c).shape == (3,)


def test_dew_point_above_the_air_counts_as_saturated() -> None:
    """Two rounded readings may cross; humidity stops at 100 %."""
    assert rh_pct(10.0, 10.4) == 100.0


def test_margin_is_negative_on_wet_steel() -> None:
    """Steel colder than the dew point has a negative margin, whatever the air."""
    assert dew_margin_k(8.0, 10.5) == -2.5


@pytest.mark.parametrize(("air_c", "rh"), [(-50.0, 50.0), (61.0, 50.0), (20.0, 0.0), (20.0, 100.1), (float("nan"), 50.0)])
def test_values_outside_the_range_are_refused(air_c: float, rh: float) -> None:
    """The refusal is a ValueError that carries quantity, value and range."""
    with pytest.raises(OutOfRange) as refused:
        dew_point_c(air_c, rh)
    assert isinstance(refused.value, ValueError)
    assert refused.value.quantity in str(refused.value)
    assert refused.value.valid_range in str(refused.value)


def test_the_first_bad_value_of_an_array_is_named() -> None:
    """An array with two bad values names the first of them."""
    with pytest.raises(OutOfRange, match=r"relative humidity, % is 120, outside 0\.1 to 100"):
        dew_point_c(np.array([20.0, 20.0, 20.0]), np.array([50.0, 120.0, 130.0]))
