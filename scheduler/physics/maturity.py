"""Equivalent age: hours at changing temperatures as hours at one reference temperature.

The one-parameter laws against which the table of a product sheet (:mod:`scheduler.physics.curing`) can be judged, and
with which a sheet that prints a single row plus a rule such as "twice as fast every 10 °C" is turned into rows.
"""

import numpy as np

from scheduler.physics.arrays import FloatArray
from scheduler.physics.ranges import OutOfRange, require_positive, require_within
from scheduler.physics.still_air import KELVIN

GAS_CONSTANT_J_MOLK = 8.314462618


def equivalent_age_h(temp_c: FloatArray, step_h: float, q_kelvin: float, reference_c: float = 20.0) -> float:
    """Hours at the reference temperature that do the same as the series, by the Arrhenius law.

    Parameters
    ----------
    temp_c : array of shape (n,)
        Temperature that holds in each step, °C, from -60 to 300.
    step_h : float
        Length of a step, h.
    q_kelvin : float
        Activation energy over the gas constant, K.
    reference_c : float
        Reference temperature, °C.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.

    References
    ----------
    ASTM C1074, equivalent age (from memory).
    """
    require_positive("activation energy over the gas constant, K", q_kelvin)
    kelvin, reference = _kelvin(temp_c), _kelvin(np.asarray(reference_c, dtype=np.float64))
    return _sum_of_steps(np.exp(-q_kelvin * (1.0 / kelvin - 1.0 / reference)), step_h)


def q10_age_h(temp_c: FloatArray, step_h: float, q10: float, reference_c: float = 20.0) -> float:
    """Hours at the reference temperature that do the same as the series, when every 10 K multiply the rate by ``q10``.

    Parameters
    ----------
    temp_c : array of shape (n,)
        Temperature that holds in each step, °C, from -60 to 300.
    step_h : float
        Length of a step, h.
    q10 : float
        Factor for 10 K.
    reference_c : float
        Reference temperature, °C.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.
    """
    require_positive("factor for 10 K", q10)
    warmer_k = _kelvin(temp_c) - _kelvin(np.asarray(reference_c, dtype=np.float64))
    return _sum_of_steps(q10 ** (warmer_k / 10.0), step_h)


def activation_energy_j_mol(cold_c: float, hot_c: float, times_faster: float = 2.0) -> float:
    """Activation energy of a reaction that runs ``times_faster`` at the hotter of two temperatures, J/mol.

    Raises
    ------
    OutOfRange
        When the temperatures do not ascend or the factor is not positive.
    """
    require_positive("factor between two temperatures", times_faster)
    if not hot_c > cold_c:
        raise OutOfRange("hotter temperature, °C", hot_c, f"above {cold_c:g}")
    cold, hot = (float(_kelvin(np.asarray(temp, dtype=np.float64))) for temp in (cold_c, hot_c))
    return GAS_CONSTANT_J_MOLK * float(np.log(times_faster)) / (1.0 / cold - 1.0 / hot)


def _kelvin(temp_c: FloatArray) -> FloatArray:
    require_within("temperature of the film, °C", temp_c, -60.0, 300.0)
    return np.asarray(temp_c, dtype=np.float64) + KELVIN


def _sum_of_steps(rate: FloatArray, step_h: float) -> float:
    require_positive("length of a step, h", step_h)
    return float(np.sum(rate)) * step_h
