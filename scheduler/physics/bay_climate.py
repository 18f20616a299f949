"""The climate in a bay hour by hour: outdoors the weather, indoors the same moisture in air that is warmer or dried."""

from dataclasses import dataclass
from datetime import datetime

import numpy as np

from scheduler.physics import psychrometrics
from scheduler.physics.arrays import BoolArray, FloatArray
from scheduler.physics.hourly import HourlyWeather, hour_index, posix_seconds, require_one_length, require_whole_hour
from scheduler.physics.ranges import require_within
from scheduler.physics.solar import night_mask
from scheduler.physics.steel_temperature import PLATE_MM, plate_time_constant_h, steel_indoors_c, steel_outdoors_c


@dataclass(frozen=True, slots=True, eq=False)
class BayClimate:
    """What a gauge in the bay would read, one value an hour; each value holds for the whole hour that begins there.

    Attributes
    ----------
    start_utc : datetime
        Aware, on a whole hour of UTC.
    air_temp_c, steel_temp_c, dew_point_c : array of shape (n,)
        Temperatures, °C.
    rh_pct : array of shape (n,)
        Relative humidity of the air, %.
    wind_m_s, rain_mm : array of shape (n,)
        Wind, m/s, and rain, mm, of the hour; 0 indoors.
    typical : array of bool, shape (n,)
        True where the hour rests on a typical year.

    Raises
    ------
    ValueError
        When the start is not an aware whole hour, or the arrays differ in length or are empty.
    """

    start_utc: datetime
    air_temp_c: FloatArray
    steel_temp_c: FloatArray
    dew_point_c: FloatArray
    rh_pct: FloatArray
    wind_m_s: FloatArray
    rain_mm: FloatArray
    typical: BoolArray

    def __post_init__(self) -> None:
        require_whole_hour(self.start_utc)
        require_one_length(
            self.air_temp_c, self.steel_temp_c, self.dew_point_c, self.rh_pct, self.wind_m_s, self.rain_mm, self.typical
        )

    def __len__(self) -> int:
        """Hours in the series."""
        return len(self.air_temp_c)

    @property
    def dew_margin_k(self) -> FloatArray:
        """How far the steel is above the dew point in each hour, K."""
        return psychrometrics.dew_margin_k(self.steel_temp_c, self.dew_point_c)

    @property
    def warmest_steel_c(self) -> FloatArray:
        """Steel or air, whichever is warmer in each hour, °C: the careful side for maximum times, sunshine left out.

        ``steel_temp_c`` leans to the cold, which is careful for dew point and minimum times but lets a window stay open too long.
        """
        return np.maximum(self.steel_temp_c, self.air_temp_c)

    def index_at(self, moment: datetime) -> int:
        """Index of the hour in which a moment lies.

        Raises
        ------
        OutOfRange
            When the moment lies before the first hour or after the last.
        """
        return hour_index(self.start_utc, len(self), moment)


def indoor_climate(
    weather: HourlyWeather, heated_to_c: float | None, rh_held_pct: float | None, time_constant_h: float
) -> BayClimate:
    """Climate of a bay under a roof, which outdoor air passes through and a heater or dryer may change.

    Moisture from people, washing or burners is not in it.

    Parameters
    ----------
    weather : HourlyWeather
        Outdoors.
    heated_to_c : float or None
        The air is never colder than this, °C; none for an unheated bay.
    rh_held_pct : float or None
        A dryer holds the relative humidity of the bay's air at or below this, %; none without one.
    time_constant_h : float
        Lag of the steel behind the bay's air, h.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.
    """
    air_c = np.array(weather.air_temp_c)
    dew_c = np.minimum(weather.dew_point_c, weather.air_temp_c)
    if heated_to_c is not None:
        require_within("temperature that a bay is heated to, °C", heated_to_c, -20.0, 50.0)
        air_c = np.maximum(air_c, heated_to_c)
    if rh_held_pct is not None:
        dew_c = np.minimum(dew_c, psychrometrics.dew_point_c(air_c, np.full_like(air_c, rh_held_pct)))
    calm = np.zeros(len(weather))
    steel_c = steel_indoors_c(air_c, time_constant_h)
    rh_pct = psychrometrics.rh_pct(air_c, dew_c)
    return BayClimate(weather.start_utc, air_c, steel_c, dew_c, rh_pct, calm, calm.copy(), weather.typical)


def outdoor_climate(
    weather: HourlyWeather, latitude_deg: float, longitude_deg: float, film_w_m2k: float, plate_mm: float = PLATE_MM
) -> BayClimate:
    """Climate of a place under the open sky, the steel colder than the air on nights, all taken as clear.

    Parameters
    ----------
    weather : HourlyWeather
        There.
    latitude_deg, longitude_deg : float
        Place; north and east positive. An hour is night when the sun is below the horizon at its start or its end.
    film_w_m2k : float
        Film coefficient of the steel, W/m²K; 5 is calm air.
    plate_mm : float
        Thickness of the steel, mm, which lags behind the air in the morning over one face.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.
    """
    edges_s = posix_seconds(weather.start_utc, len(weather) + 1)
    dark = night_mask(edges_s, latitude_deg, longitude_deg)
    night = dark[:-1] | dark[1:]
    lag_h = plate_time_constant_h(plate_mm, film_w_m2k)
    air_c, dew_c = weather.air_temp_c, np.minimum(weather.dew_point_c, weather.air_temp_c)
    steel_c = steel_outdoors_c(air_c, dew_c, night, film_w_m2k, lag_h)
    rh_pct = psychrometrics.rh_pct(air_c, dew_c)
    return BayClimate(weather.start_utc, air_c, steel_c, dew_c, rh_pct, weather.wind_m_s, weather.rain_mm, weather.typical)
