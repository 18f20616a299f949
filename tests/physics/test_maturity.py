"""Equivalent age at one temperature, and what it refuses."""

import numpy as np
import pytest

from scheduler.physics.maturity import activation_energy_j_mol, equivalent_age_h, q10_age_h
from scheduler.physics.ranges import OutOfRange


def test_at_the_reference_temperature_age_is_time() -> None:
    """Both laws give six hours for six hours at 20 °C, in whatever steps."""
    assert equivalent_age_h(np.full(12, 20.0), 0.5, 5000.0) == pytest.approx(6.0)
    assert q10_age_h(np.full(12, 20.0), 0.5, 2.0) == pytest.approx(6.0)


def test_ten_kelvin_warmer_multiply_by_q10() -> None:
    """One hour at 30 °C is 2.5 h at 20 °C when Q10 is 2.5; at 10 °C it is .4 h."""
    assert q10_age_h(np.array([30.0]), 1.0, 2.5) == pytest.approx(2.5)
    assert q10_age_h(np.array([10.0]), 1.0, 2.5) == pytest.approx(0.4)


def test_activation_energy_reproduces_its_factor() -> None:
    """The energy that triples a rate from 10 to 25 °C, put back into the age law, triples it."""
    q_kelvin = activation_energy_j_mol(10.0, 25.0, 3.0) / 8.314462618
    assert equivalent_age_h(np.array([25.0]), 1.0, q_kelvin, 10.0) == pytest.approx(3.0)


def test_impossible_inputs_are_refused() -> None:
    """Temperatures the wrong way round, no step, nan."""
    with pytest.raises(OutOfRange):
        activation_energy_j_mol(20.0, 10.0)
    with pytest.raises(OutOfRange):
        q10_age_h(np.array([20.0]), 0.0, 2.0)
    with pytest.raises(OutOfRange):
        equivalent_age_h(np.array([20.0, np.nan]), 1.0, 5000.0)
