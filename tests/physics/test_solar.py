"""Day and night."""

from datetime import UTC, datetime

import numpy as np
import pytest

from scheduler.physics.ranges import OutOfRange
from scheduler.physics.solar import elevation_deg, is_night, night_mask


@pytest.mark.parametrize(
    ("day", "rise", "sets"),
    [((6, 21), 9 + 25 / 60, 24 + 31 / 60), ((12, 21), 12 + 17 / 60, 21 + 32 / 60), ((3, 20), 11 + 0 / 60, 23 + 8 / 60)],
)
def test_sunrise_and_sunset_of_a_known_city(day: tuple[int, int], rise: float, sets: float) -> None:
    """40.71 N, 74.01 W, hours UTC from published tables (from memory): within 10 minutes, refraction being left out."""
    midnight = datetime(2013, *day, 4, tzinfo=UTC).timestamp()
    minutes = midnight + 60.0 * np.arange(24 * 60, dtype=np.float64)
    dark = night_mask(minutes, 40.71, -74.01)
    changes = 4.0 + np.flatnonzero(np.diff(dark.astype(int))) / 60.0
    assert changes == pytest.approx([rise, sets], abs=10 / 60)


def test_noon_height_at_the_solstice() -> None:
    """At latitude 40 N the sun stands 90 - 40 + 23.45 degrees high at noon in June (geometry)."""
    minutes = datetime(2014, 6, 21, tzinfo=UTC).timestamp() + 60.0 * np.arange(24 * 60, dtype=np.float64)
    assert elevation_deg(minutes, 40.0, 0.0).max() == pytest.approx(73.45, abs=0.05)


def test_one_moment_and_an_array_agree() -> None:
    """The single form is the array form of one moment; noon is day and midnight night at Greenwich."""
    noon, midnight = datetime(2013, 9, 22, 12, tzinfo=UTC), datetime(2013, 9, 22, 0, tzinfo=UTC)
    assert [is_night(moment, 51.5, 0.0) for moment in (noon, midnight)] == [False, True]
    assert night_mask(np.array([noon.timestamp(), midnight.timestamp()]), 51.5, 0.0).tolist() == [False, True]


def test_polar_night_and_midnight_sun() -> None:
    """At 75 N it is dark all of a December day and light all of a June day."""
    hours = 3600.0 * np.arange(24, dtype=np.float64)
    assert night_mask(datetime(2013, 12, 21, tzinfo=UTC).timestamp() + hours, 75.0, 20.0).all()
    assert not night_mask(datetime(2013, 6, 21, tzinfo=UTC).timestamp() + hours, 75.0, 20.0).any()


def test_nowhere_on_the_globe_is_refused() -> None:
    """Latitude beyond the pole, longitude beyond the date line, a moment without zone."""
    with pytest.raises(OutOfRange, match="latitude"):
        is_night(datetime(2013, 6, 21, tzinfo=UTC), 91.0, 0.0)
    with pytest.raises(OutOfRange, match="longitude"):
        is_night(datetime(2013, 6, 21, tzinfo=UTC), 0.0, 181.0)
    with pytest.raises(ValueError, match="time zone"):
        is_night(datetime(2013, 6, 21), 0.0, 0.0)
