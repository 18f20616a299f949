"""Air pressure at altitude, and how much more free air a tool takes there."""

from scheduler.physics.ranges import require_within

SEA_LEVEL_PA = 101325.0
PA_PER_BAR = 1e5
_EARTH_RADIUS_M = 6_356_766.0


def ambient_pressure_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere, Pa.

    Parameters
    ----------
    altitude_m : float
        Altitude above sea level, m, from -500 to 6000.

    Raises
    ------
    OutOfRange
        Outside that range.

    References
    ----------
    U.S. Standard Atmosphere 1976 / ISO 2533, lowest layer (from memory).
    """
    require_within("altitude, m", altitude_m, -500.0, 6000.0)
    geopotential_m = altitude_m * _EARTH_RADIUS_M / (_EARTH_RADIUS_M + altitude_m)
    power: float = (1.0 - 0.0065 * geopotential_m / 288.15) ** 5.255877
    return SEA_LEVEL_PA * power


def altitude_factor(gauge_bar: float, altitude_m: float) -> float:
    """How many times more free air a tool takes at altitude than at sea level, at one gauge pressure.

    Parameters
    ----------
    gauge_bar : float
        Pressure at the tool, bar above ambient, 0 to 60.
    altitude_m : float
        Altitude, m.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.
    """
    require_within("gauge pressure, bar", gauge_bar, 0.0, 60.0)
    ambient, gauge = ambient_pressure_pa(altitude_m), gauge_bar * PA_PER_BAR
    return (gauge + ambient) / ambient / ((gauge + SEA_LEVEL_PA) / SEA_LEVEL_PA)
