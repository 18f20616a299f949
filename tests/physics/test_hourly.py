"""Hourly weather: which hour a moment lies in, and what is no weather."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from scheduler.physics.hourly import HourlyWeather, posix_seconds
from scheduler.physics.ranges import OutOfRange

START = datetime(2013, 11, 2, 22, tzinfo=UTC)


def weather(hours: int = 24, /, **changes: object) -> HourlyWeather:
    """Give mild, dry weather with some fields changed."""
    fields = {
        "air_temp_c": np.full(hours, 15.0),
        "dew_point_c": np.full(hours, 8.0),
        "wind_m_s": np.full(hours, 2.0),
        "rain_mm": np.zeros(hours),
        "typical": np.zeros(hours, dtype=np.bool_),
    }
    return HourlyWeather(**({"start_utc": START} | fields | changes))  # type: ignore[arg-type]


def test_a_moment_belongs_to_the_hour_that_began() -> None:
    """First and last microsecond of an hour have the same index."""
    assert weather().index_at(START) == 0
    assert weather().index_at(START + timedelta(hours=1, microseconds=-1)) == 0
    assert weather().index_at(START + timedelta(hours=23, minutes=59)) == 23


@pytest.mark.parametrize("offset", [timedelta(microseconds=-1), timedelta(hours=24)])
def test_a_moment_outside_the_series_is_refused(offset: timedelta) -> None:
    """Neither before the first hour nor at the end of the last is there weather."""
    with pytest.raises(OutOfRange, match="in the weather from 2013-11-02"):
        weather().index_at(START + offset)


def test_both_one_o_clocks_of_an_autumn_night_are_two_hours() -> None:
    """When clocks go back, 01:30 happens twice: two indices, one apart, also when the start is in local time."""
    zone = ZoneInfo("America/New_York")
    local = weather(start_utc=START.astimezone(zone))
    first, second = (datetime(2013, 11, 3, 1, 30, tzinfo=zone, fold=fold) for fold in (0, 1))
    assert (local.index_at(first), local.index_at(second)) == (7, 8)


def test_length_end_and_seconds_agree() -> None:
    """A day has 24 hours, ends a day after its start, and its hours are 3600 s apart."""
    day = weather()
    assert len(day) == day.hours_covered == 24
    assert day.end_utc == START + timedelta(hours=24)
    assert posix_seconds(START, 3).tolist() == [START.timestamp() + 3600.0 * hour for hour in range(3)]


def test_a_moment_without_a_zone_is_refused() -> None:
    """Nobody guesses a zone."""
    with pytest.raises(ValueError, match="needs a time zone"):
        weather().index_at(datetime(2013, 11, 3, 1))


@pytest.mark.parametrize(
    "changes",
    [
        {"start_utc": START.replace(tzinfo=None)},
        {"start_utc": START + timedelta(minutes=30)},
        {"air_temp_c": np.full(23, 15.0)},
        {"air_temp_c": np.full((24, 1), 15.0)},
        {"air_temp_c": np.full(24, np.nan)},
        {"dew_point_c": np.full(24, 90.0)},
        {"wind_m_s": np.full(24, 468.5)},
        {"rain_mm": np.full(24, -0.1)},
    ],
)
def test_what_is_no_weather_is_refused(changes: dict[str, object]) -> None:
    """A start off the hour or without zone, uneven series, holes, and a wind of 1048 mph (seen in real data)."""
    with pytest.raises(ValueError, match=r"hour|outside"):
        weather(**changes)


def test_an_empty_series_is_refused() -> None:
    """No hours is no weather."""
    with pytest.raises(ValueError, match="one value an hour"):
        weather(0)
