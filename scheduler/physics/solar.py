"""Is it night? Sun above or below the horizon, from the date, the hour and the place.

Declination of Cooper (1969) and the equation of time of Duffie and Beckman, *Solar Engineering of Thermal Processes*,
ch. 1 (both from memory). Good to about half a degree, a few minutes of sunset: enough for hourly weather.
"""

from datetime import datetime

import numpy as np

from scheduler.physics.arrays import BoolArray, FloatArray
from scheduler.physics.ranges import require_within

_DAY_S = 86_400.0


def elevation_deg(posix_s: FloatArray, latitude_deg: float, longitude_deg: float) -> FloatArray:
    """Angle of the sun above the horizon, without refraction.

    Parameters
    ----------
    posix_s : array of shape (n,)
        Moments, seconds since 1970-01-01 UTC.
    latitude_deg, longitude_deg : float
        Place; north and east positive.

    Returns
    -------
    array of shape (n,)
        Degrees, negative below the horizon.

    Raises
    ------
    OutOfRange
        When the place is not on the globe.
    """
    require_within("latitude, degrees", latitude_deg, -90.0, 90.0)
    require_within("longitude, degrees", longitude_deg, -180.0, 180.0)
    day = _day_of_year(posix_s)
    declination = np.radians(23.45) * np.sin(2.0 * np.pi * (284.0 + day) / 365.0)
    solar_h = (posix_s % _DAY_S) / 3600.0 + longitude_deg / 15.0 + _equation_of_time_min(day) / 60.0
    hour_angle = np.radians(15.0) * (solar_h - 12.0)
    latitude = np.radians(latitude_deg)
    height = np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(declination) * np.cos(hour_angle)
    return np.asarray(np.degrees(np.arcsin(np.clip(height, -1.0, 1.0))), dtype=np.float64)


def night_mask(posix_s: FloatArray, latitude_deg: float, longitude_deg: float) -> BoolArray:
    """Whether the sun is below the horizon at each moment; parameters and errors as :func:`elevation_deg`."""
    return elevation_deg(posix_s, latitude_deg, longitude_deg) < 0.0


def is_night(utc: datetime, latitude_deg: float, longitude_deg: float) -> bool:
    """Whether the sun is below the horizon at one moment.

    Parameters
    ----------
    utc : datetime
        The moment, aware.
    latitude_deg, longitude_deg : float
        Place; north and east positive.

    Raises
    ------
    ValueError
        When the moment has no time zone.
    OutOfRange
        When the place is not on the globe.
    """
    if utc.tzinfo is None:
        raise ValueError(f"day or night needs a time zone, got {utc.isoformat()}")
    return bool(night_mask(np.array([utc.timestamp()]), latitude_deg, longitude_deg)[0])


def _day_of_year(posix_s: FloatArray) -> FloatArray:
    days = np.floor(posix_s / _DAY_S).astype(np.int64).astype("datetime64[D]")
    new_year = days.astype("datetime64[Y]").astype("datetime64[D]")
    return np.asarray((days - new_year).astype(np.float64) + 1.0, dtype=np.float64)


def _equation_of_time_min(day: FloatArray) -> FloatArray:
    angle = 2.0 * np.pi * (day - 1.0) / 365.0
    once = 0.001868 * np.cos(angle) - 0.032077 * np.sin(angle)
    twice = 0.014615 * np.cos(2.0 * angle) + 0.04089 * np.sin(2.0 * angle)
    return np.asarray(229.2 * (0.000075 + once - twice), dtype=np.float64)
