"""Cure and recoat arithmetic against closed forms and worked figures."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import i0

from scheduler.physics.arrays import FloatArray
from scheduler.physics.curing import SheetTimes, finish_index, progress, sheet_h
from scheduler.physics.maturity import activation_energy_j_mol, equivalent_age_h, q10_age_h

TABLE = SheetTimes((5.0, 10.0, 20.0, 30.0), (48.0, 24.0, 8.0, 4.0))


def day_c(hour: FloatArray) -> FloatArray:
    """Give a day of 15 °C on average, 21 °C at 15:00 and 9 °C at 03:00."""
    return np.asarray(15.0 + 6.0 * np.sin(2.0 * np.pi * (hour - 9.0) / 24.0), dtype=np.float64)


@pytest.mark.parametrize(("cold_c", "energy"), [(10.0, 47837.2), (20.0, 51216.2), (30.0, 54710.4)])
def test_activation_energy_that_doubles_the_rate(cold_c: float, energy: float) -> None:
    """Twice as fast every 10 °C is no single activation energy (Arrhenius law with the CODATA gas constant)."""
    assert activation_energy_j_mol(cold_c, cold_c + 10.0) == pytest.approx(energy, abs=0.1)


@pytest.mark.parametrize(("temp_c", "factor"), [(10.0, 0.54751), (15.0, 0.74382), (25.0, 1.33114), (30.0, 1.75528)])
def test_age_factor(temp_c: float, factor: float) -> None:
    """ASTM C1074 form (from memory) at Q = 5000 K and a reference of 20 °C."""
    assert equivalent_age_h(np.array([temp_c]), 1.0, 5000.0, 20.0) == pytest.approx(factor, abs=1e-5)


@pytest.mark.parametrize(("temp_c", "hours"), [(12.0, 19.2658), (15.0, 13.8564), (25.0, 5.65685)])
def test_table_is_read_log_linearly(temp_c: float, hours: float) -> None:
    """15 °C is the geometric mean of 24 and 8 h, 25 °C that of 8 and 4 h (arithmetic)."""
    assert sheet_h(TABLE, temp_c) == pytest.approx(hours, abs=1e-4)


def test_q10_over_a_day_has_a_closed_form() -> None:
    """24 h of the day above with Q10 = 2: 24 · 2^-1/2 · I0(.6 ln 2) = 17.71235 h, and 24 samples already reach it."""
    ours = q10_age_h(day_c(np.arange(24.0)), 1.0, 2.0, 20.0)
    assert ours == pytest.approx(17.71235, abs=1e-5)
    assert ours == pytest.approx(24.0 / np.sqrt(2.0) * i0(0.6 * np.log(2.0)), rel=1e-9)


def test_mean_temperature_overstates_a_maximum_window() -> None:
    """The table on that day from 06:00, hourly steps: closed after 10.5759 h, though the mean of 15 °C promises 13.8564 h."""
    used = progress(TABLE, day_c(np.arange(48.0)), 1.0, "maximum")
    closes_h = finish_index(used, 6.0) - 6.0
    assert closes_h == pytest.approx(10.5759, abs=1e-4)
    assert closes_h < sheet_h(TABLE, 15.0)


def test_hourly_steps_approach_the_integral() -> None:
    """With one-minute steps the same window agrees with scipy's quadrature of dt / t(T)."""
    minutes = np.arange(48.0 * 60.0) / 60.0
    used = progress(TABLE, day_c(minutes), 1.0 / 60.0, "maximum")
    closes_h = finish_index(used, 360.0) / 60.0 - 6.0
    share, _ = quad(lambda hour: 1.0 / sheet_h(TABLE, float(day_c(np.asarray(hour)))), 6.0, 6.0 + closes_h, limit=200)
    assert share == pytest.approx(1.0, abs=2e-3)


def test_a_table_made_by_the_arrhenius_law_ages_as_that_law() -> None:
    """Rows every degree from Q = 5000 K: the table's progress over a day is the equivalent age over its time at 20 °C."""
    rows = np.arange(5.0, 31.0)
    hours = 8.0 * np.exp(5000.0 * (1.0 / (rows + 273.15) - 1.0 / 293.15))
    sheet = SheetTimes(tuple(rows.tolist()), tuple(hours.tolist()))
    temps = day_c(np.arange(24.0))
    assert 8.0 * progress(sheet, temps, 1.0, "minimum")[-1] == pytest.approx(equivalent_age_h(temps, 1.0, 5000.0), rel=1e-4)
