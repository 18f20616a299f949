"""Climate of a bay: heating, drying and the open sky."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.physics.bay_climate import BayClimate, indoor_climate, outdoor_climate
from scheduler.physics.hourly import HourlyWeather
from scheduler.physics.psychrometrics import dew_point_c
from scheduler.physics.ranges import OutOfRange

START = datetime(2013, 9, 22, tzinfo=UTC)
PLACE = (40.7, -74.0)


def weather(air_c: list[float] | np.ndarray, dew_c: float = 8.0) -> HourlyWeather:
    """Give weather of the given air temperatures at one dew point, windy and wet, the last half from a typical year."""
    hours = len(air_c)
    typical = np.arange(hours) >= hours // 2
    return HourlyWeather(START, np.array(air_c, float), np.full(hours, dew_c), np.full(hours, 9.0), np.ones(hours), typical)


def test_an_unheated_bay_has_outdoor_air_but_no_wind_or_rain() -> None:
    """Air and moisture pass through; wind, rain stay outside; what is typical stays marked."""
    outside = weather([12.0, 14.0, 16.0, 18.0])
    bay = indoor_climate(outside, None, None, 0.0)
    assert bay.air_temp_c.tolist() == bay.steel_temp_c.tolist() == [12.0, 14.0, 16.0, 18.0]
    assert bay.dew_point_c.tolist() == [8.0] * 4
    assert not bay.wind_m_s.any()
    assert not bay.rain_mm.any()
    assert bay.typical.tolist() == [False, False, True, True]


def test_heating_dries_the_air_by_warming_it_only() -> None:
    """Heated to 20 °C the dew point is the outdoor one and the humidity falls; a hot day is not cooled."""
    bay = indoor_climate(weather([10.0, 10.0, 26.0]), 20.0, None, 0.0)
    assert bay.air_temp_c.tolist() == [20.0, 20.0, 26.0]
    assert bay.dew_point_c.tolist() == [8.0] * 3
    assert bay.rh_pct[0] < 50.0
    assert bay.dew_margin_k.tolist() == [12.0, 12.0, 18.0]


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(-20.0, 40.0), min_size=1, max_size=30), st.floats(10.0, 95.0))
def test_a_dryer_holds_humidity_and_never_adds_moisture(air_c: list[float], held_pct: float) -> None:
    """Humidity is at or below what is held, the dew point at or below that outdoors."""
    outside = weather(air_c, -5.0)
    bay = indoor_climate(outside, None, held_pct, 3.0)
    assert (bay.rh_pct <= held_pct + 1e-6).all()
    assert (bay.dew_point_c <= outside.dew_point_c).all()


def test_steel_lags_in_a_bay() -> None:
    """In a morning that warms by 5 K an hour, steel with a lag of 3 h is behind the air."""
    bay = indoor_climate(weather([5.0, 10.0, 15.0, 20.0]), None, None, 3.0)
    assert bay.steel_temp_c[0] == 5.0
    assert (bay.steel_temp_c[1:] < bay.air_temp_c[1:]).all()


def test_open_sky_steel_is_below_air_by_night_and_wet_when_the_air_is_not() -> None:
    """A mild night of 3.5 K spread: air passes the 3 K rule, the steel under the sky is below the dew point."""
    outside = weather(np.full(24, 15.0), 11.5)
    climate = outdoor_climate(outside, *PLACE, 5.0)
    at_03_local, at_15_local = (climate.index_at(START + timedelta(hours=hour)) for hour in (7, 19))
    assert climate.dew_margin_k[at_03_local] < 0.0
    assert 3.0 < climate.dew_margin_k[at_15_local] <= 3.5
    assert climate.rain_mm is outside.rain_mm
    assert climate.wind_m_s is outside.wind_m_s


def test_windows_are_closed_by_the_warmer_of_steel_and_air() -> None:
    """At night under the sky the air is warmer than the steel, in a cooling hall the steel: either way the warmer one."""
    outdoors = outdoor_climate(weather(np.full(24, 15.0)), *PLACE, 10.0)
    assert outdoors.warmest_steel_c.tolist() == [15.0] * 24
    hall = indoor_climate(weather([20.0, 10.0, 10.0]), None, None, 3.0)
    assert hall.warmest_steel_c[1] == hall.steel_temp_c[1] > hall.air_temp_c[1]


def test_the_hour_of_sunset_counts_as_night() -> None:
    """Sunset at 22:46 UTC: the hour from 22:00 is dark at its end, so its steel is taken as cold; 21:00 is day."""
    climate = outdoor_climate(weather(np.full(24, 15.0)), *PLACE, 10.0)
    assert climate.steel_temp_c[22] < 14.0
    assert climate.steel_temp_c[21] == pytest.approx(15.0, abs=0.01)


def test_a_dew_point_above_the_air_is_taken_as_saturated() -> None:
    """Two rounded readings that cross give 100 % and no dew point above the air, in both kinds of bay."""
    outside = weather([7.5, 7.5])
    for climate in (indoor_climate(outside, None, None, 0.0), outdoor_climate(outside, *PLACE, 5.0)):
        assert climate.rh_pct.tolist() == [100.0, 100.0]
        assert climate.dew_point_c.tolist() == [7.5, 7.5]


def test_heat_and_humidity_that_cannot_be_are_refused() -> None:
    """A bay heated to 80 °C or held at 0 % is a slip of the pen."""
    with pytest.raises(OutOfRange, match="heated to"):
        indoor_climate(weather([10.0]), 80.0, None, 0.0)
    with pytest.raises(OutOfRange, match="relative humidity"):
        indoor_climate(weather([10.0]), None, 0.0, 0.0)


def test_uneven_series_are_refused() -> None:
    """A climate needs as many values of each kind as hours."""
    one, two = np.ones(1), np.ones(2)
    with pytest.raises(ValueError, match="equal lengths"):
        BayClimate(START, two, two, one, two, two, two, np.ones(2, dtype=np.bool_))


def test_held_humidity_is_that_of_the_heated_air() -> None:
    """50 % held in air heated to 20 °C: the dew point is that of 20 °C and 50 %, 9.255 °C, when it is moister outside."""
    bay = indoor_climate(weather([12.0], 11.9), 20.0, 50.0, 0.0)
    assert bay.dew_point_c[0] == pytest.approx(dew_point_c(20.0, 50.0))
