"""Spreading rates and consumption against unit arithmetic and standards (ISO 23811, ISO 3233, ASTM D2697; from memory)."""

import pytest

from scheduler.physics.film import (
    cartridges_for_run,
    dead_volume_um,
    practical_ml,
    spreading_rate_ft2_us_gal,
    spreading_rate_m2_l,
    usable_ml,
    wet_film_um,
)

FT2_PER_US_GAL_IN_M2_PER_L = 0.3048**2 / 3.785411784


def test_a_us_gallon_one_mil_thick_covers_1604_square_feet() -> None:
    """231 cubic inches spread .001 inch thick, in square feet: the definition of the US gallon."""
    assert spreading_rate_ft2_us_gal(100.0, 1.0) == pytest.approx(1604.1667, abs=1e-4)


def test_65_percent_at_125_um_in_both_unit_systems() -> None:
    """5.2 m²/L and 192.308 um wet; at 5 mil 208.54 ft²/gal (arithmetic of the definition)."""
    assert spreading_rate_m2_l(65.0, 125.0) == pytest.approx(5.2, abs=1e-10)
    assert wet_film_um(65.0, 125.0) == pytest.approx(192.308, abs=5e-4)
    assert spreading_rate_ft2_us_gal(65.0, 5.0) == pytest.approx(208.54, abs=5e-3)


def test_solventless_product_at_3_mm_in_both_unit_systems() -> None:
    """.33333 m²/L is 13.582 ft²/gal: the two forms are the same physics with exact unit factors."""
    metric = spreading_rate_m2_l(100.0, 3000.0)
    assert metric == pytest.approx(0.33333, abs=5e-6)
    assert spreading_rate_ft2_us_gal(100.0, 3000.0 / 25.4) == pytest.approx(13.582, abs=5e-4)
    assert spreading_rate_ft2_us_gal(100.0, 3000.0 / 25.4) * FT2_PER_US_GAL_IN_M2_PER_L == pytest.approx(metric, rel=1e-12)


def test_loss_divides_and_the_run_is_rounded_up_once() -> None:
    """42 m² at 3 mm with 15 % loss: 126 L net, 148.235 L practical, 106.262 cartridges, so 107 (arithmetic)."""
    assert practical_ml(42.0, 3000.0, 100.0, 0.0, 0.0) == pytest.approx(126_000.0)
    practical = practical_ml(42.0, 3000.0, 100.0, 0.0, 15.0)
    assert practical == pytest.approx(148_235.0, abs=0.5)
    usable = usable_ml(1500.0, 60.0, 45.0)
    assert practical / usable == pytest.approx(106.262, abs=5e-4)
    assert cartridges_for_run(practical, usable) == 107


@pytest.mark.parametrize(("profile_um", "dead_um"), [(25.0, 10.0), (75.0, 35.0), (125.0, 60.0), (200.0, 125.0)])
def test_dead_volume_of_a_profile(profile_um: float, dead_um: float) -> None:
    """Paint that a blasted or pitted profile swallows (published guide of the trade; from memory)."""
    assert dead_volume_um(profile_um) == dead_um
