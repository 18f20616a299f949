"""Dew point, margin and clear-night steel against general-purpose libraries and published figures."""

import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI
from scipy.optimize import brentq

from scheduler.physics.psychrometrics import dew_margin_k, dew_point_c
from scheduler.physics.steel_temperature import plate_time_constant_h, sky_depression_k

psychrolib.SetUnitSystem(psychrolib.SI)

# Air °C, RH %, then dew point: Magnus WMO-No. 8 Annex 4.B (coefficients from memory), Alduchov & Eskridge 1996 (from
# memory), psychrolib 2.5.0 (ASHRAE), CoolProp HAPropsSI.
TABLE = [
    (5.0, 80.0, 1.83405, 1.83594, 1.84133, 1.84187),
    (10.0, 85.0, 7.59243, 7.59383, 7.59750, 7.59786),
    (20.0, 50.0, 9.25517, 9.26111, 9.27239, 9.27443),
    (20.0, 85.0, 17.39941, 17.40087, 17.40267, 17.40332),
    (25.0, 30.0, 6.21133, 6.22135, 6.23812, 6.24202),
    (30.0, 60.0, 21.38542, 21.39001, 21.38799, 21.39145),
    (35.0, 75.0, 29.90066, 29.90334, 29.89649, 29.89951),
]
LIBRARY_TOLERANCE_K = 0.05


@pytest.mark.parametrize(("air_c", "rh", "wmo", "alduchov", "ashrae", "helmholtz"), TABLE)
def test_dew_point_is_the_wmo_magnus_form_and_near_every_other(
    air_c: float, rh: float, wmo: float, alduchov: float, ashrae: float, helmholtz: float
) -> None:
    """Ours equals the WMO form to its printed digits and stays within .05 K of three others."""
    ours = dew_point_c(air_c, rh)
    assert ours == pytest.approx(wmo, abs=1e-5)
    assert [ours] * 3 == pytest.approx([alduchov, ashrae, helmholtz], abs=LIBRARY_TOLERANCE_K)


@pytest.mark.parametrize(("air_c", "rh"), [row[:2] for row in TABLE])
def test_dew_point_agrees_with_the_libraries_run_here(air_c: float, rh: float) -> None:
    """Both psychrolib and CoolProp, computed now and not read from the table, agree within .05 K."""
    ours = dew_point_c(air_c, rh)
    ashrae = psychrolib.GetTDewPointFromRelHum(air_c, rh / 100.0)
    helmholtz = HAPropsSI("D", "T", air_c + 273.15, "R", rh / 100.0, "P", 101325.0) - 273.15
    assert [ashrae, helmholtz] == pytest.approx([ours, ours], abs=LIBRARY_TOLERANCE_K)


def test_below_freezing_ours_is_the_dew_point_over_water_and_lies_below_the_frost_point() -> None:
    """At -10 °C and 80 % psychrolib finds the frost point of the same vapour pressure; ours is colder, as documented."""
    vapour_pa = 0.80 * 611.2 * np.exp(17.62 * -10.0 / (243.12 - 10.0))
    frost_c = psychrolib.GetTDewPointFromVapPres(-10.0, float(vapour_pa))
    ours = dew_point_c(-10.0, 80.0)
    assert ours < frost_c
    assert frost_c - ours == pytest.approx(1.4, abs=0.2)


@pytest.mark.parametrize(("air_c", "rh_at_3_k"), [(5.0, 80.913), (10.0, 81.593), (20.0, 82.861), (30.0, 84.015), (35.0, 84.554)])
def test_85_percent_does_not_imply_3_kelvin(air_c: float, rh_at_3_k: float) -> None:
    """Humidity at which air is 3 K above its dew point (psychrolib), always below the 85 % of the trade.

    3 K: ISO 8502-4 and ISO 12944-7 (from memory).
    """
    ours = brentq(lambda rh: dew_margin_k(air_c, dew_point_c(air_c, rh)) - 3.0, 50.0, 100.0)
    assert ours == pytest.approx(rh_at_3_k, abs=0.1)
    assert dew_margin_k(air_c, dew_point_c(air_c, 85.0)) < 3.0


@pytest.mark.parametrize(("film_w_m2k", "depression_k"), [(5.0, 7.435), (10.0, 4.927), (20.0, 2.951)])
def test_clear_night_steel_runs_below_the_air(film_w_m2k: float, depression_k: float) -> None:
    """Horizontal plate, emissivity .9, air 20 °C, dew point 14 °C, sky of Berdahl & Martin 1984 (from memory)."""
    assert sky_depression_k(20.0, 14.0, film_w_m2k, 0.9) == pytest.approx(depression_k, abs=1e-3)


def test_morning_lag_of_a_10_mm_plate() -> None:
    """One face, 7850 kg/m³, 480 J/kgK and 10 W/m²K: 62.8 minutes (the definition of a time constant)."""
    assert 60.0 * plate_time_constant_h(10.0, 10.0) == pytest.approx(62.8, abs=0.01)
