"""Hours in which a step may be done, and the reasons when it may not."""

import re
from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.physics.hourly import HourlyWeather
from scheduler.physics.weather_window import BayClimate, Limits, hours_allowed, indoor_climate, reasons_refused

START = datetime(2013, 9, 22, tzinfo=UTC)
GOOD = {"air_temp_c": 20.0, "steel_temp_c": 19.0, "dew_point_c": 12.0, "rh_pct": 60.0, "wind_m_s": 3.0, "rain_mm": 0.0}
SHEET = Limits(
    air_min_c=5.0,
    air_max_c=35.0,
    steel_min_c=5.0,
    steel_max_c=40.0,
    rh_max_pct=85.0,
    dew_margin_k=3.0,
    wind_max_m_s=8.0,
    rain_max_mm=0.0,
)


def climate(hours: int = 1, /, **changes: float) -> BayClimate:
    """Give a good hour, repeated, with some values changed."""
    values = {name: np.full(hours, value) for name, value in (GOOD | changes).items()}
    return BayClimate(start_utc=START, typical=np.zeros(hours, dtype=np.bool_), **values)


def test_a_good_hour_is_allowed_and_has_no_reasons() -> None:
    """Nothing is refused without a reason, nor a reason given for nothing."""
    assert hours_allowed(climate(3), SHEET).tolist() == [True] * 3
    assert reasons_refused(climate(3), SHEET, 2) == ()


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"air_temp_c": 4.0}, "air 4.0 °C, needs 5.0 °C"),
        ({"air_temp_c": 36.0}, "air 36.0 °C, at most 35.0 °C"),
        ({"steel_temp_c": 4.0, "dew_point_c": -9.0}, "steel 4.0 °C, needs 5.0 °C"),
        ({"steel_temp_c": 41.0}, "steel 41.0 °C, at most 40.0 °C"),
        ({"rh_pct": 90.0}, "relative humidity 90.0 %, at most 85.0 %"),
        ({"dew_point_c": 16.9}, "steel 2.1 K above dew point, needs 3.0 K"),
        ({"dew_point_c": 19.5}, "steel 0.5 K below dew point, needs 3.0 K above"),
        ({"wind_m_s": 8.5}, "wind 8.5 m/s, at most 8.0 m/s"),
        ({"rain_mm": 0.3}, "rain 0.3 mm, at most 0.0 mm"),
    ],
)
def test_each_limit_refuses_alone_and_says_so(changes: dict[str, float], reason: str) -> None:
    """One value over its limit refuses the hour with that one reason and both figures."""
    bad = climate(**changes)
    assert not hours_allowed(bad, SHEET)[0]
    assert reasons_refused(bad, SHEET, 0) == (reason,)


def test_values_on_the_limit_are_allowed() -> None:
    """Exactly 5 °C, 85 %, 3 K, 8 m/s and no rain pass: limits are inclusive."""
    edge = climate(air_temp_c=5.0, steel_temp_c=5.0, dew_point_c=2.0, rh_pct=85.0, wind_m_s=8.0)
    assert hours_allowed(edge, SHEET)[0]


def test_figures_never_read_as_the_limit_that_they_miss() -> None:
    """2.96 K is shown as 2.9 K and 85.04 % as 85.1 %: a reason that reads "3.0, needs 3.0" helps nobody."""
    assert reasons_refused(climate(dew_point_c=19.0 - 2.96), SHEET, 0) == ("steel 2.9 K above dew point, needs 3.0 K",)
    assert reasons_refused(climate(rh_pct=85.04), SHEET, 0) == ("relative humidity 85.1 %, at most 85.0 %",)


def test_all_broken_limits_are_named_together() -> None:
    """Rain, wind and humidity at once give three reasons in one go."""
    assert len(reasons_refused(climate(rain_mm=2.0, wind_m_s=12.0, rh_pct=97.0), SHEET, 0)) == 3


def test_no_limit_asks_nothing() -> None:
    """A step without limits may be done in any weather."""
    assert hours_allowed(climate(rain_mm=20.0, wind_m_s=30.0, rh_pct=100.0), Limits())[0]


def test_a_missing_value_is_never_allowed() -> None:
    """A hole in the series refuses the hour when a limit reads it."""
    assert not hours_allowed(climate(wind_m_s=float("nan")), SHEET)[0]


def test_held_humidity_passes_its_own_limit() -> None:
    """A bay dried to exactly 50 % meets a limit of 50 %: going to the dew point and back costs nothing."""
    air_c = np.linspace(5.0, 30.0, 24)
    outside = HourlyWeather(START, air_c, air_c - 0.5, np.zeros(24), np.zeros(24), np.zeros(24, dtype=np.bool_))
    assert hours_allowed(indoor_climate(outside, None, 50.0, 0.0), Limits(rh_max_pct=50.0)).all()


@pytest.mark.parametrize("hour_index", [-1, 3])
def test_an_hour_that_is_not_there_is_refused(hour_index: int) -> None:
    """No wrapping round from the end."""
    with pytest.raises(IndexError, match="climate of 3 hours"):
        reasons_refused(climate(3), SHEET, hour_index)


@settings(max_examples=80, deadline=None)
@given(st.floats(-10.0, 45.0), st.floats(-10.0, 10.0), st.floats(0.0, 15.0), st.floats(20.0, 100.0), st.floats(0.0, 0.4))
def test_refused_exactly_when_there_is_a_reason(air_c: float, colder_k: float, wind: float, rh: float, rain: float) -> None:
    """The mask and the reasons agree for any hour, and every reason carries two figures."""
    hour = climate(air_temp_c=air_c, steel_temp_c=air_c - colder_k, rh_pct=rh, wind_m_s=wind, rain_mm=rain)
    reasons = reasons_refused(hour, SHEET, 0)
    assert bool(hours_allowed(hour, SHEET)[0]) == (not reasons)
    assert all(len(re.findall(r"-?\d+\.\d", reason)) == 2 for reason in reasons)
