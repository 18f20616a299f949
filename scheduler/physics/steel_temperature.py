"""How warm the steel is: behind the air indoors, below the air under a clear night sky.

Both differences decide whether a film goes on wet steel, so neither is left out. There is no cloud or sunshine in the
weather: nights count as clear, and by day the steel counts as no warmer than the air. That is the careful side for dew
point and minimum temperatures. It is *not* for steel in full sun, which is hotter than the air, uses up a maximum
recoat window faster and can pass a product's highest steel temperature: measure the steel before spraying.
"""

import numpy as np

from scheduler.physics.arrays import BoolArray, FloatArray
from scheduler.physics.clear_sky import DRIEST_SKY_C, MOISTEST_SKY_C, sky_depression_k, sky_emissivity
from scheduler.physics.ranges import require_not_negative, require_positive, require_within

__all__ = [
    "PLATE_MM",
    "plate_time_constant_h",
    "sky_depression_k",
    "sky_emissivity",
    "steel_indoors_c",
    "steel_outdoors_c",
]

STEEL_DENSITY_KG_M3 = 7850.0
STEEL_HEAT_J_KGK = 480.0
PLATE_MM = 10.0
"""Thickness assumed where the morning lag of outdoor steel is not told otherwise."""


def steel_outdoors_c(
    air_temp_c: FloatArray, dew_point_c: FloatArray, night: BoolArray, film_w_m2k: float = 5.0, time_constant_h: float = 0.0
) -> FloatArray:
    """Steel under the open sky hour by hour: below air on nights, all of them taken as clear, and at air temperature by day.

    Parameters
    ----------
    air_temp_c, dew_point_c : array of shape (n,)
        Air temperature and dew point, °C. Dew points beyond what the sky's emissivity serves are taken at its edge.
    night : array of bool, shape (n,)
        Hours of night.
    film_w_m2k : float
        Film coefficient, W/m²K.
    time_constant_h : float
        Lag of the steel in the morning, h. It only ever makes the steel colder: evening warmth is not counted on.

    Returns
    -------
    array of shape (n,)
        Steel temperature, °C.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.
    """
    sky_dew_point_c = np.clip(dew_point_c, DRIEST_SKY_C, MOISTEST_SKY_C)
    settled_c = air_temp_c - np.where(night, sky_depression_k(air_temp_c, sky_dew_point_c, film_w_m2k), 0.0)
    return np.minimum(settled_c, steel_indoors_c(settled_c, time_constant_h))


def steel_indoors_c(air_temp_c: FloatArray, time_constant_h: float) -> FloatArray:
    """Steel that follows the air around it with a first-order lag, by the exact solution over each hour.

    Parameters
    ----------
    air_temp_c : array of shape (n,)
        Air temperature that holds in each hour, °C.
    time_constant_h : float
        Time constant, h; 0 for steel at air temperature. See :func:`plate_time_constant_h`.

    Returns
    -------
    array of shape (n,)
        Steel temperature at the start of each hour, °C; the first is the air's.

    Raises
    ------
    OutOfRange
        When the time constant is negative.
    """
    require_not_negative("time constant of the steel, h", time_constant_h)
    if time_constant_h == 0:
        return np.array(air_temp_c, dtype=np.float64)
    kept = float(np.exp(-1.0 / time_constant_h))
    steel_c = np.array(air_temp_c, dtype=np.float64)
    for hour in range(1, len(steel_c)):
        steel_c[hour] = air_temp_c[hour - 1] + (steel_c[hour - 1] - air_temp_c[hour - 1]) * kept
    return steel_c


def plate_time_constant_h(thickness_mm: float, film_w_m2k: float, faces: int = 1) -> float:
    """Time constant of a steel plate that exchanges heat over one or both faces, h.

    Raises
    ------
    OutOfRange
        When the thickness or film coefficient is not positive, or there are other than one or two faces.
    """
    require_positive("thickness of the steel, mm", thickness_mm)
    require_positive("film coefficient, W/m²K", film_w_m2k)
    require_within("faces of a plate", faces, 1, 2)
    return STEEL_DENSITY_KG_M3 * STEEL_HEAT_J_KGK * thickness_mm / 1000.0 / (film_w_m2k * faces) / 3600.0
