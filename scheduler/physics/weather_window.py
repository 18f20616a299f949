"""In which hours may a step be done in a bay, and if not, why not.

An hour counts when every limit of the product holds for its values; each value holds for the whole hour that begins
there, so nothing is interpolated between hours and a step may use an hour up to its end. The limits come from the
product's sheet; that the steel is 3 K above the dew point does not follow from humidity below 85 %, so both are asked.
"""

import math
from dataclasses import dataclass

import numpy as np

from scheduler.physics.arrays import BoolArray, FloatArray
from scheduler.physics.bay_climate import BayClimate, indoor_climate, outdoor_climate

__all__ = ["BayClimate", "Limits", "hours_allowed", "indoor_climate", "outdoor_climate", "reasons_refused"]

# Below what any gauge reads; above the noise of going from humidity to dew point and back.
_NOISE = 1e-6


@dataclass(frozen=True, slots=True)
class Limits:
    """What a product asks of the hours in which it is sprayed and left open to the weather; none where it asks nothing.

    Attributes
    ----------
    air_min_c, air_max_c, steel_min_c, steel_max_c : float or None
        Temperatures, °C.
    rh_max_pct : float or None
        Highest relative humidity, %.
    dew_margin_k : float or None
        How far the steel must be above the dew point, K.
    wind_max_m_s, rain_max_mm : float or None
        Most wind, m/s, and most rain in an hour, mm.
    """

    air_min_c: float | None = None
    air_max_c: float | None = None
    steel_min_c: float | None = None
    steel_max_c: float | None = None
    rh_max_pct: float | None = None
    dew_margin_k: float | None = None
    wind_max_m_s: float | None = None
    rain_max_mm: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class _Test:
    """One limit against the series that it limits."""

    word: str
    unit: str
    values: FloatArray
    limit: float
    at_least: bool

    def holds(self) -> BoolArray:
        short = self.limit - self.values if self.at_least else self.values - self.limit
        return short <= _NOISE

    def reason(self, hour_index: int) -> str:
        value = _one_decimal(float(self.values[hour_index]), down=self.at_least)
        needs = "needs" if self.at_least else "at most"
        if self.word == "dew point":
            side = "above" if self.values[hour_index] >= 0 else "below"
            return f"steel {abs(value):.1f} K {side} dew point, needs {self.limit:.1f} K" + (" above" if side == "below" else "")
        return f"{self.word} {value:.1f} {self.unit}, {needs} {self.limit:.1f} {self.unit}"


def hours_allowed(climate: BayClimate, limits: Limits) -> BoolArray:
    """Hours in which all limits hold.

    Parameters
    ----------
    climate : BayClimate
        Of the bay, n hours.
    limits : Limits
        Of the product.

    Returns
    -------
    array of bool, shape (n,)
        True where the step may be done. A value that is missing (nan) is never allowed.
    """
    allowed = np.ones(len(climate), dtype=np.bool_)
    for test in _tests(climate, limits):
        allowed &= test.holds()
    return allowed


def reasons_refused(climate: BayClimate, limits: Limits, hour_index: int) -> tuple[str, ...]:
    """Why an hour is refused, each limit that it breaks in few words with both figures; empty when it is allowed.

    Figures are rounded away from the limit, so that 2.96 K never reads as the 3.0 K that it misses.

    Raises
    ------
    IndexError
        When there is no such hour.
    """
    if not 0 <= hour_index < len(climate):
        raise IndexError(f"hour {hour_index} of a climate of {len(climate)} hours")
    return tuple(test.reason(hour_index) for test in _tests(climate, limits) if not test.holds()[hour_index])


def _tests(climate: BayClimate, limits: Limits) -> list[_Test]:
    rows: tuple[tuple[str, str, FloatArray, float | None, bool], ...] = (
        ("air", "°C", climate.air_temp_c, limits.air_min_c, True),
        ("air", "°C", climate.air_temp_c, limits.air_max_c, False),
        ("steel", "°C", climate.steel_temp_c, limits.steel_min_c, True),
        ("steel", "°C", climate.steel_temp_c, limits.steel_max_c, False),
        ("relative humidity", "%", climate.rh_pct, limits.rh_max_pct, False),
        ("dew point", "K", climate.dew_margin_k, limits.dew_margin_k, True),
        ("wind", "m/s", climate.wind_m_s, limits.wind_max_m_s, False),
        ("rain", "mm", climate.rain_mm, limits.rain_max_mm, False),
    )
    return [_Test(word, unit, values, limit, at_least) for word, unit, values, limit, at_least in rows if limit is not None]


def _one_decimal(value: float, *, down: bool) -> float:
    return (math.floor(value * 10.0) if down else math.ceil(value * 10.0)) / 10.0
