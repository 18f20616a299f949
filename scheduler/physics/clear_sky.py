"""How far a surface cools below the air by radiating to a clear night sky."""

import numpy as np

from scheduler.physics.arrays import Values, as_given
from scheduler.physics.ranges import require_positive, require_within
from scheduler.physics.still_air import KELVIN, STEFAN_BOLTZMANN_W_M2K4

DRIEST_SKY_C, MOISTEST_SKY_C = -38.0, 35.0
"""Dew points between which the sky's emissivity is served."""


def sky_emissivity(dew_point_c: Values) -> Values:
    """Emissivity of a clear sky, mean over the day.

    Fitted to dew points of about -13 to 24 °C; used up to where it stops falling (-38 °C) and reaches 1 (35 °C).

    Parameters
    ----------
    dew_point_c : float or array
        Dew point near the ground, °C.

    Raises
    ------
    OutOfRange
        Outside -38 to 35 °C.

    References
    ----------
    Berdahl and Martin, *Solar Energy* 32 (1984) 663 (from memory).
    """
    require_within("dew point for the sky's emissivity, °C", dew_point_c, DRIEST_SKY_C, MOISTEST_SKY_C)
    hundredths = np.asarray(dew_point_c) / 100.0
    return as_given(dew_point_c, 0.711 + 0.56 * hundredths + 0.73 * hundredths**2)


def sky_depression_k(air_temp_c: Values, dew_point_c: Values, film_w_m2k: float = 5.0, emissivity: float = 0.9) -> Values:
    """How far a horizontal plate under a clear night sky settles below the air; a vertical one about half of it.

    Balance of one face, ``h (Ta - Ts) = e s (Ts⁴ - e_sky Ta⁴)``, solved by Newton's method.

    Parameters
    ----------
    air_temp_c, dew_point_c : float or array
        Air temperature, °C from -45 to 60, and dew point, °C from -38 to 35.
    film_w_m2k : float
        Convective film coefficient, W/m²K; 5 is a calm night, the careful side.
    emissivity : float
        Of the steel or what is on it, 0 to 1; bright metal less, coated or rusty about .9.

    Returns
    -------
    float or array
        Depression, K, 0 or more.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.

    References
    ----------
    Sky emissivity: Berdahl and Martin (1984, from memory); the balance is the first law.
    """
    require_within("air temperature, °C", air_temp_c, -45.0, 60.0)
    require_positive("film coefficient, W/m²K", film_w_m2k)
    require_within("emissivity", emissivity, 0.0, 1.0)
    air = np.asarray(air_temp_c, dtype=np.float64) + KELVIN
    from_sky = np.minimum(np.asarray(sky_emissivity(dew_point_c)), 1.0) * air**4
    radiant = emissivity * STEFAN_BOLTZMANN_W_M2K4
    steel = air
    for _ in range(8):  # the balance is convex and nearly straight: four steps reach the last digit
        surplus = film_w_m2k * (air - steel) - radiant * (steel**4 - from_sky)
        steel = steel + surplus / (film_w_m2k + 4.0 * radiant * steel**3)
    return as_given(air_temp_c, air - steel)
