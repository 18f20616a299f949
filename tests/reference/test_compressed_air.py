"""Receiver, pump-up and altitude: worked figures (Compressed Air and Gas Institute handbook; from memory) and a library."""

import pytest
from fluids import ATMOSPHERE_1976

from scheduler.physics.compressed_air import altitude_factor, ambient_pressure_pa, pump_up_s, receiver_drawdown_s

L_S_PER_CFM = 0.471947
L_PER_FT3 = 28.316847
L_PER_US_GAL = 3.785411784
BAR_PER_PSI = 0.0689475729
M_PER_FT = 0.3048


def test_receiver_for_100_cfm_short_over_five_minutes() -> None:
    """350 - 250 cfm, 5 min, 100 to 60 psig: 183.75 ft³ at 14.7 psia, so a receiver of that size lasts five minutes."""
    volume_l = 183.75 * L_PER_FT3
    assert volume_l == pytest.approx(5203.2, abs=0.1)
    seconds = receiver_drawdown_s(volume_l, 100 * BAR_PER_PSI, 60 * BAR_PER_PSI, 350 * L_S_PER_CFM, 250 * L_S_PER_CFM)
    assert seconds == pytest.approx(300.0, rel=5e-4)


@pytest.mark.parametrize(("altitude_m", "seconds"), [(0.0, 300.02), (1524.0, 360.57)])
def test_200_l_from_10_to_6_2_bar(altitude_m: float, seconds: float) -> None:
    """2.5 L/s short: 300.02 s at sea level, 360.57 s of the thinner air at 1524 m."""
    assert receiver_drawdown_s(200.0, 10.0, 6.2, 6.0, 3.5, altitude_m) == pytest.approx(seconds, abs=0.02)


@pytest.mark.parametrize(("supply_cfm", "seconds"), [(0.0, 95.51), (10.0, 254.70)])
def test_80_gallons_from_125_to_90_psig(supply_cfm: float, seconds: float) -> None:
    """16 cfm drawn with the compressor off and delivering 10 cfm."""
    got = receiver_drawdown_s(80 * L_PER_US_GAL, 125 * BAR_PER_PSI, 90 * BAR_PER_PSI, 16 * L_S_PER_CFM, supply_cfm * L_S_PER_CFM)
    assert got == pytest.approx(seconds, abs=0.02)


def test_pump_up_of_80_gallons() -> None:
    """0 to 125 psig at 14 cfm free air delivery takes 6.4974 minutes."""
    seconds = pump_up_s(80 * L_PER_US_GAL, 0.0, 125 * BAR_PER_PSI, 14 * L_S_PER_CFM)
    assert seconds / 60.0 == pytest.approx(6.4974, abs=2e-4)


@pytest.mark.parametrize(("altitude_m", "pressure_pa"), [(1000.0, 89876.3), (1524.0, 84311.1), (3000.0, 70121.2)])
def test_standard_atmosphere(altitude_m: float, pressure_pa: float) -> None:
    """Printed pressures and the library fluids (U.S. Standard Atmosphere 1976) agree with ours."""
    ours = ambient_pressure_pa(altitude_m)
    assert ours == pytest.approx(pressure_pa, abs=0.2)
    assert ours == pytest.approx(ATMOSPHERE_1976(altitude_m).P, rel=1e-5)


@pytest.mark.parametrize(("altitude_ft", "factor"), [(5000, 1.173), (8000, 1.298), (10000, 1.390), (15000, 1.663)])
def test_altitude_factor_at_90_psig(altitude_ft: int, factor: float) -> None:
    """Published altitude factors for air tools, to their printed digit."""
    assert altitude_factor(90 * BAR_PER_PSI, altitude_ft * M_PER_FT) == pytest.approx(factor, abs=1e-3)
