"""Free air against tool demand: receiver, pump-up and altitude.

Compressed Air and Gas Institute, *Compressed Air and Gas Handbook* (from memory). Pressures at the gauge are in bar
above ambient; flows are litres a second of *free* air. Free air delivery (FAD) is measured at the outlet: displacement
overstates it by a quarter to two fifths, so displacement is not an input here.

Convention for altitude. Makers state tool demand as free air at sea level. A tool passes the same volume at its own
pressure anywhere, and at altitude thin air must be squeezed harder into it, so it takes more litres of local free
air: demand times :func:`altitude_factor`. Rather than raise every demand, :func:`delivered_l_s` divides the supply once,
so that all flows compared are in sea-level terms.

Compressed air injures; receivers, hoses and fittings belong to licensed practice and local codes, not to this arithmetic.
"""

import math

from scheduler.physics.altitude import PA_PER_BAR, altitude_factor, ambient_pressure_pa
from scheduler.physics.ranges import OutOfRange, require_not_negative, require_positive

__all__ = [
    "GUN_BAR",
    "altitude_factor",
    "ambient_pressure_pa",
    "delivered_l_s",
    "peak_l_s",
    "pump_up_s",
    "receiver_drawdown_s",
]

GUN_BAR = 6.2
"""Gauge pressure at the gun: common practice, no source."""


def delivered_l_s(fad_l_s: float, altitude_m: float, gauge_bar: float = GUN_BAR) -> float:
    """Free air delivery of a compressor in the sea-level terms in which tool demands are stated, L/s.

    The factor grows with pressure, so the gun's 6.2 bar understates what is there for tools at a lower pressure.

    Parameters
    ----------
    fad_l_s : float
        Free air delivery at the site, L/s of the site's own air.
    altitude_m : float
        Altitude of the site, m. Below sea level nothing is added.
    gauge_bar : float
        Highest pressure at any tool, bar above ambient.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.
    """
    require_not_negative("free air delivery, L/s", fad_l_s)
    return fad_l_s / max(1.0, altitude_factor(gauge_bar, altitude_m))


def receiver_drawdown_s(
    volume_l: float, p1_bar: float, p2_bar: float, demand_l_s: float, supply_l_s: float, altitude_m: float = 0.0
) -> float:
    """Seconds until a demand above the supply has drawn a receiver from ``p1_bar`` to ``p2_bar``.

    Parameters
    ----------
    volume_l : float
        Receiver volume, L.
    p1_bar, p2_bar : float
        Gauge pressure at the start and the lowest allowed, bar.
    demand_l_s, supply_l_s : float
        Flows of local free air, L/s.
    altitude_m : float
        Altitude, m.

    Returns
    -------
    float
        Seconds; infinite when the supply meets the demand.

    Raises
    ------
    OutOfRange
        When a value is negative, or the receiver starts below the lowest pressure.
    """
    require_not_negative("air demand, L/s", demand_l_s)
    require_not_negative("air supply, L/s", supply_l_s)
    stored_l = _free_air_between_l(volume_l, p1_bar, p2_bar, altitude_m)
    return math.inf if supply_l_s >= demand_l_s else stored_l / (demand_l_s - supply_l_s)


def pump_up_s(volume_l: float, p1_bar: float, p2_bar: float, fad_l_s: float, altitude_m: float = 0.0) -> float:
    """Seconds in which a compressor raises a receiver from ``p1_bar`` to ``p2_bar`` with nothing drawn from it.

    Parameters
    ----------
    volume_l : float
        Receiver volume, L.
    p1_bar, p2_bar : float
        Gauge pressure at the start and at the end, bar.
    fad_l_s : float
        Free air delivery at the site, L/s.
    altitude_m : float
        Altitude, m.

    Raises
    ------
    OutOfRange
        When the delivery is not positive, a value is negative, or the end lies below the start.
    """
    require_positive("free air delivery, L/s", fad_l_s)
    return _free_air_between_l(volume_l, p2_bar, p1_bar, altitude_m) / fad_l_s


def peak_l_s(
    supply_l_s: float, receiver_l: float, p_max_bar: float, p_min_bar: float, pull_s: float, altitude_m: float = 0.0
) -> float:
    """Flow that supply and receiver can give together for one short pull, L/s in sea-level terms.

    Parameters
    ----------
    supply_l_s : float
        Supply as :func:`delivered_l_s` gives it, L/s.
    receiver_l : float
        Receiver volume, L; 0 for none.
    p_max_bar, p_min_bar : float
        Gauge pressure from which and to which the receiver may be drawn, bar.
    pull_s : float
        Length of the pull, s.
    altitude_m : float
        Altitude, m; what the receiver gives is put in sea-level terms by the same convention, at ``p_max_bar``.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.
    """
    require_not_negative("air supply, L/s", supply_l_s)
    require_positive("length of a pull, s", pull_s)
    stored_l = _free_air_between_l(receiver_l, p_max_bar, p_min_bar, altitude_m)
    return supply_l_s + delivered_l_s(stored_l / pull_s, altitude_m, p_max_bar)


def _free_air_between_l(volume_l: float, high_bar: float, low_bar: float, altitude_m: float) -> float:
    require_not_negative("receiver volume, L", volume_l)
    require_not_negative("gauge pressure, bar", low_bar)
    if not low_bar <= high_bar < math.inf:
        raise OutOfRange("higher gauge pressure, bar", high_bar, f"{low_bar:g} or more")
    return volume_l * (high_bar - low_bar) * PA_PER_BAR / ambient_pressure_pa(altitude_m)
