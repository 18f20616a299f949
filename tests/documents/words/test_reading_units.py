"""Quantities on paper: exact factors (NIST SP 811, appendix B; from memory) and limits rounded to the careful side."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.documents.words.reading_units import NARROW_SPACE, Limit, Scale, units_for
from scheduler.shop.site import UnitSystem

SI, US = units_for(UnitSystem.SI), units_for(UnitSystem.US)


def plain(text: str) -> str:
    """Put plain spaces where narrow ones stand."""
    return text.replace(NARROW_SPACE, " ")


@pytest.mark.parametrize(
    ("scale", "stored", "text"),
    [
        (US.temperature, 29.4, "84.9 °F"),
        (US.temperature, -40.0, "-40 °F"),
        (US.difference, 3.0, "5.4 °F"),
        (US.pressure, 6.2, "90 psi"),
        (US.air, 0.028316846592 * 1000 / 60, "1 cfm"),
        (US.film, 25.4, "1 mil"),
        (US.area, 0.09290304, "1 ft²"),
        (US.volume, 29.5735295625, "1 US fl oz"),
        (US.mass, 0.45359237, "1 lb"),
        (US.length, 0.3048, "1 ft"),
        (US.wind, 0.44704, "1 mph"),
        (US.rain, 25.4, "1 in"),
        (SI.temperature, 29.4, "29.4 °C"),
        (SI.volume, 12345.0, "12 345 mL"),
        (SI.temperature, -0.04, "0 °C"),
    ],
)
def test_a_quantity_reads_in_the_unit_of_the_site(scale: Scale, stored: float, text: str) -> None:
    """Defining values come out as one unit; 85 °F, 90 psi are the trade's figures (common practice, no source)."""
    assert plain(scale.text(stored)) == text


def test_a_limit_that_is_exact_is_not_moved_by_the_conversion() -> None:
    """One US fluid ounce stays one, whichever side it is a limit of: the factor's inverse would not be exact."""
    assert (
        plain(US.volume.text(29.5735295625, Limit.AT_LEAST))
        == plain(US.volume.text(29.5735295625, Limit.AT_MOST))
        == "1 US fl oz"
    )


def test_the_spray_band_gets_narrower_never_wider() -> None:
    """26.7 to 32.2 °C is 80.06 to 89.96 °F: at least 80.1, at most 89.9."""
    assert plain(US.temperature.text(26.7, Limit.AT_LEAST)) == "80.1 °F"
    assert plain(US.temperature.text(32.2, Limit.AT_MOST)) == "89.9 °F"


@settings(max_examples=60, deadline=None)
@given(st.floats(-60, 60).map(lambda v: round(v, 3)))
def test_a_printed_limit_is_never_on_the_lenient_side(celsius: float) -> None:
    """Read back, a lower limit is not below and an upper one not above what the sheet of the product says."""
    low, high = (plain(US.temperature.text(celsius, side)).split()[0] for side in (Limit.AT_LEAST, Limit.AT_MOST))
    exact = Decimal(repr(celsius)) * Decimal("1.8") + 32
    assert Decimal(high) <= exact <= Decimal(low)
    assert Decimal(low) - Decimal(high) <= Decimal("0.1")


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_no_number_is_refused(value: float) -> None:
    """A nan never reaches paper."""
    with pytest.raises(ValueError, match="not a number that can be printed"):
        SI.temperature.text(value)


def test_a_reading_on_an_axis_is_the_printed_one() -> None:
    """An axis and a table agree: 14 L/s is 29.7 cfm in both."""
    assert round(US.air.reading(14.0), 1) == 29.7
    assert plain(US.air.text(14.0)) == "29.7 cfm"
