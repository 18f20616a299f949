"""Quantities as people read them, in SI or US customary units; a limit is never rounded to the lenient side.

Conversion is done in decimal arithmetic on the number as it was typed, so that 80 °F stays 80 °F. Factors are exact by
definition (NIST SP 811, appendix B; from memory), but for the psi, which is given there to ten digits.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from enum import StrEnum
from typing import Final

from scheduler.shop.site import UnitSystem

NARROW_SPACE: Final = "\u202f"
"""Between groups of three digits and before a unit: a number never breaks over two lines."""


class Limit(StrEnum):
    """What a number is a limit of, which tells where it may be rounded to."""

    NONE = ROUND_HALF_EVEN
    AT_LEAST = ROUND_CEILING
    AT_MOST = ROUND_FLOOR


@dataclass(frozen=True, slots=True)
class Scale:
    """How one quantity is written in one system of units.

    Attributes
    ----------
    symbol : str
        Unit as it is printed.
    places : int
        Decimals, 0 or more.
    factor, divisor, offset : Decimal
        Reading = stored * factor / divisor + offset; the divisor is there because its inverse would not be exact.
    """

    symbol: str
    places: int
    factor: Decimal = Decimal(1)
    divisor: Decimal = Decimal(1)
    offset: Decimal = Decimal(0)

    def reading(self, value: float) -> float:
        """Return a stored value as it stands on the axis of a chart."""
        return float(Decimal(repr(float(value))) * self.factor / self.divisor + self.offset)

    def text(self, value: float, limit: Limit = Limit.NONE) -> str:
        """Write a stored value, such as ``29.4 °C``.

        Raises
        ------
        ValueError
            If the value is nan or infinite: such a number must not reach paper.
        """
        exact = Decimal(repr(float(value)))
        if not exact.is_finite():
            msg = f"{value} {self.symbol} is not a number that can be printed"
            raise ValueError(msg)
        reading = exact * self.factor / self.divisor + self.offset
        rounded = reading.quantize(Decimal(1).scaleb(-self.places), rounding=limit.value)
        digits = f"{rounded + 0:,f}".replace(",", NARROW_SPACE)
        if "." in digits:
            digits = digits.rstrip("0").rstrip(".")
        return f"{digits}{NARROW_SPACE}{self.symbol}"


@dataclass(frozen=True, slots=True)
class ReadingUnits:
    """Scales of the quantities on paper and screen, for one system of units.

    Each takes what the shop's files hold: °C, K, bar, L/s, µm, m², mL, kg, m, m/s, mm.
    """

    temperature: Scale
    difference: Scale
    pressure: Scale
    air: Scale
    film: Scale
    area: Scale
    volume: Scale
    mass: Scale
    length: Scale
    wind: Scale
    rain: Scale
    humidity: Scale


_SI: Final = ReadingUnits(
    temperature=Scale("°C", 1),
    difference=Scale("°C", 1),
    pressure=Scale("bar", 1),
    air=Scale("L/s", 1),
    film=Scale("µm", 0),
    area=Scale("m²", 1),
    volume=Scale("mL", 0),
    mass=Scale("kg", 0),
    length=Scale("m", 2),
    wind=Scale("m/s", 1),
    rain=Scale("mm", 1),
    humidity=Scale("% RH", 0),
)
_US: Final = ReadingUnits(
    temperature=Scale("°F", 1, Decimal("1.8"), offset=Decimal(32)),
    difference=Scale("°F", 1, Decimal("1.8")),
    pressure=Scale("psi", 0, Decimal("14.50377377")),
    air=Scale("cfm", 1, Decimal("0.06"), Decimal("0.028316846592")),
    film=Scale("mil", 1, divisor=Decimal("25.4")),
    area=Scale("ft²", 0, divisor=Decimal("0.09290304")),
    volume=Scale("US fl oz", 1, divisor=Decimal("29.5735295625")),
    mass=Scale("lb", 0, divisor=Decimal("0.45359237")),
    length=Scale("ft", 1, divisor=Decimal("0.3048")),
    wind=Scale("mph", 1, divisor=Decimal("0.44704")),
    rain=Scale("in", 2, divisor=Decimal("25.4")),
    humidity=Scale("% RH", 0),
)


def units_for(system: UnitSystem) -> ReadingUnits:
    """Scales of the system that a site reads."""
    return _US if system is UnitSystem.US else _SI
