"""Hourly weather of the horizon: the forecast first, then the hours of a typical year, and the climate of each bay."""

from datetime import UTC, datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

import numpy as np

from scheduler.physics.hourly import HourlyWeather
from scheduler.physics.psychrometrics import dew_point_c
from scheduler.physics.weather_window import BayClimate, indoor_climate, outdoor_climate
from scheduler.shop.forecast_rows import TypicalHour, WeatherHour
from scheduler.shop.moments import at_site
from scheduler.shop.resources import Bay
from scheduler.shop.shop import Shop

HOUR: Final = timedelta(hours=1)
AFTER: Final = timedelta(days=14)
"""How far typical weather goes on past the horizon: films sprayed on its last day cure and are handed back after it."""

Calendar = dict[tuple[int, int, int], TypicalHour]


def hourly_weather(shop: Shop) -> HourlyWeather:
    """Weather from the whole hour at or before ``plan_from``, earlier where the forecast reaches back to work that is done.

    Parameters
    ----------
    shop : Shop
        Forecast rows, typical year and horizon.

    Returns
    -------
    HourlyWeather
        Forecast hours, then hours of the typical year, flagged as such, until 14 days after ``plan_until``; without a
        typical year until the forecast ends.

    Raises
    ------
    ValueError
        If an hour is in neither, or there is no weather at all.
    """
    forecast = {row.at.astimezone(UTC): row for row in shop.weather}
    typical = {(row.month, row.day, row.hour): row for row in shop.typical_year}
    start, end = _range(shop, forecast)
    moments = [start + i * HOUR for i in range(max(0, round((end - start) / HOUR)))]
    if not moments:
        msg = "there is no weather for the horizon: neither a forecast nor a typical year"
        raise ValueError(msg)
    until = max(forecast, default=start - HOUR) + HOUR
    offset = standard_offset(shop.site.tz, start.year)
    rows = [forecast.get(m) or _typical_hour(typical, m, offset, until) for m in moments]
    return _series(start, rows)


def forecast_until(shop: Shop) -> datetime | None:
    """Last moment that rests on the forecast, on the site's clock; None without one."""
    if not shop.weather:
        return None
    return at_site(max(row.at.astimezone(UTC) for row in shop.weather) + HOUR, shop.site.tz)


def bay_climate(shop: Shop, weather: HourlyWeather, bay: Bay | None) -> BayClimate:
    """Climate of a bay; None is the yard, which lies outdoors."""
    site = shop.site
    if bay is None or bay.outdoor:
        return outdoor_climate(weather, site.latitude_deg, site.longitude_deg, site.sky_film_w_m2k)
    return indoor_climate(weather, bay.heated_to_c, bay.rh_held_pct, bay.steel_lag_h)


def standard_offset(tz: ZoneInfo, year: int) -> timedelta:
    """Offset of a zone from UTC without daylight saving: the smaller of those at new year and in midsummer."""
    offsets = (datetime(year, month, 1, tzinfo=tz).utcoffset() for month in (1, 7))
    return min(offset for offset in offsets if offset is not None)


def calendar_hour(moment: datetime, offset: timedelta) -> tuple[int, int, int]:
    """Month, day and hour of a moment in a typical year, which has no 29 February and no daylight saving."""
    local = moment.astimezone(UTC) + offset
    return local.month, 28 if (local.month, local.day) == (2, 29) else local.day, local.hour


def _range(shop: Shop, forecast: dict[datetime, WeatherHour]) -> tuple[datetime, datetime]:
    start = _hour(shop.site.plan_from)
    earliest = min((_hour(done.ended_at) for done in shop.done), default=start)
    while start > earliest and start - HOUR in forecast:
        start -= HOUR
    end = max(forecast, default=start - HOUR) + HOUR
    if shop.typical_year:
        end = max(end, shop.site.plan_until.astimezone(UTC) + AFTER)
    return start, end.replace(minute=0, second=0, microsecond=0)


def _hour(moment: datetime) -> datetime:
    return moment.astimezone(UTC).replace(minute=0, second=0, microsecond=0)


def _typical_hour(typical: Calendar, moment: datetime, offset: timedelta, forecast_until: datetime) -> TypicalHour:
    row = typical.get(calendar_hour(moment, offset))
    if row is None or moment < forecast_until:
        msg = f"no weather for the hour from {moment:%Y-%m-%d %H:%M} UTC"
        raise ValueError(msg)
    return row


def _series(start: datetime, rows: list[WeatherHour | TypicalHour]) -> HourlyWeather:
    air_c = np.array([row.air_temp_c for row in rows])
    dew_c = np.array([_dew_point_c(row) for row in rows])
    wind, rain = np.array([row.wind_m_s for row in rows]), np.array([row.rain_mm for row in rows])
    typical = np.array([isinstance(row, TypicalHour) for row in rows])
    return HourlyWeather(start, air_c, np.minimum(dew_c, air_c), wind, rain, typical)


def _dew_point_c(row: WeatherHour | TypicalHour) -> float:
    if row.dew_point_c is not None:
        return row.dew_point_c
    if isinstance(row, TypicalHour) or row.rh_pct is None:
        msg = "an hour of weather needs a dew point or a humidity"
        raise ValueError(msg)
    return dew_point_c(row.air_temp_c, row.rh_pct)
