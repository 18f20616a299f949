"""Repair of the airfield's hours: every hour from the first to the last, whole, and a list of what was changed."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from ewr_hours import Hour, WholeHour

STEP = timedelta(hours=1)
WIND_MOST_M_S = 75.0
"""No mean wind of an hour near the ground comes close to this; what lies above it is a slip of the record."""
APART_K = 1.0 - 1e-6
"""Dew points as printed, and from temperature and humidity, that lie this far apart contradict each other."""

Known = Mapping[datetime, Hour]


@dataclass(frozen=True, slots=True)
class Repair:
    """What was found in an hour, and what was done about it."""

    at: datetime
    found: str
    done: str


def repaired(hours: list[Hour]) -> tuple[list[WholeHour], list[Repair]]:
    """Return every hour from the first to the last, whole, and the repairs in order of time."""
    repairs: list[Repair] = []
    known = {hour.at: _sane(hour, repairs) for hour in hours}
    count = round((hours[-1].at - hours[0].at) / STEP) + 1
    whole = [_complete(known, hours[0].at + i * STEP, repairs) for i in range(count)]
    return [_agreeing(hour, repairs) for hour in whole], sorted(repairs, key=lambda repair: repair.at)


def dew_point_c(air_c: float, rh_pct: float) -> float:
    """Magnus form over water with a = 17.62, b = 243.12 °C (WMO-No. 8, Annex 4.B; from memory)."""
    g = math.log(rh_pct / 100) + 17.62 * air_c / (243.12 + air_c)
    return 243.12 * g / (17.62 - g)


def humidity_pct(air_c: float, dew_c: float) -> float:
    """Inverse of :func:`dew_point_c`."""
    return 100 * math.exp(17.62 * dew_c / (243.12 + dew_c) - 17.62 * air_c / (243.12 + air_c))


def _sane(hour: Hour, repairs: list[Repair]) -> Hour:
    if hour.wind_m_s is None or hour.wind_m_s <= WIND_MOST_M_S:
        return hour
    repairs.append(Repair(hour.at, f"a wind of {hour.wind_m_s:.1f} m/s", "wind of the worse neighbour"))
    return replace(hour, wind_m_s=None)


def _complete(known: Known, at: datetime, repairs: list[Repair]) -> WholeHour:
    hour = known.get(at)
    if hour is None:
        repairs.append(Repair(at, "no row", "air and dew point on a straight line, wind and rain of the worse neighbour"))
    elif hour.air_c is None or hour.dew_c is None or hour.rh_pct is None:
        repairs.append(Repair(at, "no air temperature, dew point or humidity", "on a straight line between the neighbours"))
    elif hour.wind_m_s is None and not any(repair.at == at for repair in repairs):
        repairs.append(Repair(at, "no wind", "wind of the worse neighbour"))
    air_c = _between(known, at, "air_c")
    dew_c = min(_between(known, at, "dew_c"), air_c)
    rh_pct = hour.rh_pct if hour is not None and hour.rh_pct is not None else humidity_pct(air_c, dew_c)
    return WholeHour(at, air_c, dew_c, rh_pct, _worse(known, at, "wind_m_s"), _worse(known, at, "rain_mm"))


def _agreeing(hour: WholeHour, repairs: list[Repair]) -> WholeHour:
    implied_c = dew_point_c(hour.air_c, hour.rh_pct)
    if abs(implied_c - hour.dew_c) < APART_K:
        return hour
    damp_c = max(implied_c, hour.dew_c)
    found = f"dew point {hour.dew_c:.2f} °C as printed, {implied_c:.2f} °C by the humidity"
    repairs.append(Repair(hour.at, found, f"the damper of the two, {damp_c:.2f} °C"))
    return replace(hour, dew_c=damp_c)


def _between(known: Known, at: datetime, name: str) -> float:
    (before, low), (after, high) = _neighbour(known, at, name, -STEP), _neighbour(known, at, name, STEP)
    return low if before == after else low + (high - low) * ((at - before) / (after - before))


def _worse(known: Known, at: datetime, name: str) -> float:
    return max(_neighbour(known, at, name, -STEP)[1], _neighbour(known, at, name, STEP)[1])


def _neighbour(known: Known, at: datetime, name: str, way: timedelta) -> tuple[datetime, float]:
    """Return the nearest hour that way with a value, this one included, and the value."""
    while getattr(known.get(at), name, None) is None:
        if not min(known) <= at <= max(known):
            msg = f"no {name} before or after {at:%Y-%m-%d %H:%M}"
            raise ValueError(msg)
        at += way
    return at, float(getattr(known[at], name))
