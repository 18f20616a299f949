"""Consumption: dead volume, loss and rounding to cartridges."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.physics.film import (
    cartridges_for_run,
    dead_volume_um,
    practical_ml,
    spreading_rate_m2_l,
    usable_ml,
    wet_film_um,
)
from scheduler.physics.ranges import OutOfRange


def test_a_coat_over_a_coat_has_no_profile_to_fill() -> None:
    """Profile 0 swallows nothing; anything above it takes the first band."""
    assert dead_volume_um(0.0) == 0.0
    assert dead_volume_um(0.1) == 10.0


@pytest.mark.parametrize(("edge_um", "dead_um"), [(50.0, 35.0), (100.0, 60.0), (150.0, 125.0), (300.0, 125.0)])
def test_the_edge_of_a_band_takes_the_larger_value(edge_um: float, dead_um: float) -> None:
    """On an edge two bands could be meant: the one that needs more product is taken."""
    assert dead_volume_um(edge_um) == dead_um


@settings(max_examples=50, deadline=None)
@given(st.floats(0.0, 299.0), st.floats(0.0, 1.0))
def test_rougher_steel_never_takes_less(profile_um: float, rougher_um: float) -> None:
    """Dead volume does not fall with profile."""
    assert dead_volume_um(profile_um + rougher_um) >= dead_volume_um(profile_um)


def test_profile_adds_to_the_film_before_solids_and_loss() -> None:
    """10 m² at 200 um on a 75 um profile, 50 % solids, 20 % loss: 10 · (200 + 35) / .5 / .8 = 5875 mL."""
    assert practical_ml(10.0, 200.0, 50.0, 75.0, 20.0) == pytest.approx(5875.0)


def test_no_area_needs_no_product() -> None:
    """A surface of 0 m² takes nothing and opens no cartridge."""
    assert practical_ml(0.0, 200.0, 50.0, 75.0, 20.0) == 0.0
    assert cartridges_for_run(0.0, 1000.0) == 0


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 500), st.floats(1.0, 3000.0))
def test_whole_cartridges_are_not_inflated_by_float_noise(count: int, usable: float) -> None:
    """A run of exactly n cartridges opens n; half a millilitre more opens one more."""
    assert cartridges_for_run(count * usable, usable) == count
    assert cartridges_for_run(count * usable + 0.5, usable) == count + 1


def test_thirds_add_up_to_whole_cartridges() -> None:
    """Ten coats of .1 cartridge, summed as floats, fit into one."""
    assert cartridges_for_run(sum([150.0 * 0.7] * 10), 150.0 * 7.0) == 1


@pytest.mark.parametrize(
    "call",
    [
        lambda: spreading_rate_m2_l(0.0, 100.0),
        lambda: spreading_rate_m2_l(101.0, 100.0),
        lambda: wet_film_um(50.0, 0.0),
        lambda: dead_volume_um(301.0),
        lambda: dead_volume_um(-1.0),
        lambda: practical_ml(-1.0, 100.0, 50.0, 0.0, 0.0),
        lambda: practical_ml(1.0, 100.0, 50.0, 0.0, 100.0),
        lambda: practical_ml(1.0, float("inf"), 50.0, 0.0, 0.0),
        lambda: usable_ml(100.0, 60.0, 40.0),
        lambda: usable_ml(100.0, -1.0, 40.0),
        lambda: cartridges_for_run(float("nan"), 100.0),
        lambda: cartridges_for_run(100.0, 0.0),
    ],
)
def test_impossible_inputs_are_refused(call: object) -> None:
    """Nothing is computed from solids, thickness, loss or volumes that cannot be."""
    assert callable(call)
    with pytest.raises(OutOfRange):
        call()
