"""Dew point by air temperature and humidity, for the back of a day sheet; figures are rounded up, to the careful side."""

from typing import Final

from scheduler.documents.words.reading_units import Limit, ReadingUnits, Scale
from scheduler.documents.words.table import Table
from scheduler.physics.psychrometrics import dew_point_c
from scheduler.shop.site import UnitSystem

_HUMIDITIES: Final = (30, 40, 50, 60, 70, 75, 80, 85, 90)
_AIR_C: Final = (0, 5, 10, 15, 20, 25, 30, 35, 40)
_AIR_F: Final = (30, 40, 50, 60, 70, 80, 90, 100)


def dew_point_table(units: ReadingUnits, reads: UnitSystem) -> Table:
    """Table in the temperatures that a site reads."""
    airs = [(f, (f - 32) / 1.8) for f in _AIR_F] if reads is UnitSystem.US else [(c, float(c)) for c in _AIR_C]
    scale = units.temperature
    rows = tuple((f"{air}", *(_dew(air_c, rh, scale) for rh in _HUMIDITIES)) for air, air_c in airs)
    caption = f"Dew point, {scale.symbol}, by air temperature, {scale.symbol}, and humidity"
    return Table(caption, ("air", *(f"{rh} %" for rh in _HUMIDITIES)), rows)


def _dew(air_c: float, rh_pct: float, scale: Scale) -> str:
    return scale.text(float(dew_point_c(air_c, rh_pct)), Limit.AT_LEAST).split("\u202f", maxsplit=1)[0]
