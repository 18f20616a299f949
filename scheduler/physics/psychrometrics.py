"""Dew point of the air and how far the steel is above it.

Magnus form over *water* with the coefficients of WMO-No. 8, Annex 4.B (from memory): a = 17.62, b = 243.12 °C,
stated for -45 to 60 °C. Below 0 °C the answer stays the dew point over supercooled water; it is not the frost point,
which lies above it (about 1 K at -10 °C). Coating limits sit above 0 °C, so no decision rests on that difference.

The rule of the trade that stands on it: steel at least 3 °C above the dew point (ISO 8502-4, ISO 12944-7; from memory).
Compare the *steel* to the dew point, never the air.
"""

import numpy as np

from scheduler.physics.arrays import Values, as_given
from scheduler.physics.ranges import require_within

MAGNUS_A = 17.62
MAGNUS_B_C = 243.12
_LOWEST_C, _HIGHEST_C = -45.0, 60.0
_DRIEST_PCT = 0.1


def dew_point_c(air_temp_c: Values, rh_pct: Values) -> Values:
    """Temperature at which the air's moisture begins to condense on steel.

    Parameters
    ----------
    air_temp_c : float or array
        Air temperature, °C, from -45 to 60.
    rh_pct : float or array
        Relative humidity over water, %, from 0.1 to 100.

    Returns
    -------
    float or array
        Dew point over water, °C, also below 0 °C (not the frost point).

    Raises
    ------
    OutOfRange
        When a value lies outside the ranges above, or is nan.

    References
    ----------
    WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B (from memory).
    """
    require_within("air temperature, °C", air_temp_c, _LOWEST_C, _HIGHEST_C)
    require_within("relative humidity, %", rh_pct, _DRIEST_PCT, 100.0)
    exponent = np.log(np.asarray(rh_pct) / 100.0) + _magnus_exponent(air_temp_c)
    return as_given(air_temp_c, MAGNUS_B_C * exponent / (MAGNUS_A - exponent))


def rh_pct(air_temp_c: Values, dew_point_c: Values) -> Values:
    """Relative humidity of air with a given dew point.

    Parameters
    ----------
    air_temp_c : float or array
        Air temperature, °C, from -45 to 60.
    dew_point_c : float or array
        Dew point over water, °C, from -80 to 60. One above the air temperature (two rounded readings) counts as saturated.

    Returns
    -------
    float or array
        Relative humidity, %, never above 100.

    Raises
    ------
    OutOfRange
        When a value lies outside the ranges above, or is nan.
    """
    require_within("air temperature, °C", air_temp_c, _LOWEST_C, _HIGHEST_C)
    require_within("dew point, °C", dew_point_c, -80.0, _HIGHEST_C)
    relative = 100.0 * np.exp(_magnus_exponent(dew_point_c) - _magnus_exponent(air_temp_c))
    return as_given(air_temp_c, np.minimum(relative, 100.0))


def dew_margin_k(steel_temp_c: Values, dew_point_c: Values) -> Values:
    """How far the steel is above the dew point of the air at it; negative means that it is wet.

    Parameters
    ----------
    steel_temp_c, dew_point_c : float or array
        Steel temperature and dew point, °C.

    Returns
    -------
    float or array
        The difference, K.
    """
    return as_given(steel_temp_c, np.asarray(steel_temp_c) - np.asarray(dew_point_c))


def _magnus_exponent(temp_c: Values) -> Values:
    temp = np.asarray(temp_c, dtype=np.float64)
    return as_given(temp_c, MAGNUS_A * temp / (MAGNUS_B_C + temp))
