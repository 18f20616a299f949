"""How long a cartridge soaks in the warmer, and how long it stays warm outside it.

A filled cartridge is a solid cylinder with a film of air around it, at one temperature when it goes in
(:mod:`scheduler.physics.cartridge`). The Biot number is above .1, so a lumped estimate would be too short.
Soak times are the upper end of the search, times out of the warmer the lower end.

Heat under pressure can burst a cartridge and speeds up its reaction: the product's safety data sheet sets the highest
temperature, and nothing here says that a temperature is permitted.
"""

import math
from collections.abc import Callable
from functools import lru_cache

from scheduler.physics.cartridge import Cartridge, excess
from scheduler.physics.finite_cylinder import Where
from scheduler.physics.ranges import OutOfRange, require_within
from scheduler.physics.still_air import film_coefficient_w_m2k

__all__ = ["Cartridge", "excess", "film_coefficient_w_m2k", "mean_soak_h", "out_of_warmer_min", "soak_h"]

_SECONDS_AN_HOUR = 3600.0
_LONGEST_S = 1000.0 * _SECONDS_AN_HOUR


def soak_h(cartridge: Cartridge, film_w_m2k: float, start_c: float, warmer_c: float, core_c: float) -> float:
    """Hours in the warmer until the core of a loose cartridge reaches a temperature.

    Parameters
    ----------
    cartridge : Cartridge
        What is warmed; alone in moving room, not packed in its carton (that takes several times as long).
    film_w_m2k : float
        Film coefficient in the warmer, W/m²K.
    start_c, warmer_c, core_c : float
        Temperature it comes from, of the warmer's air, and to be reached, °C.

    Returns
    -------
    float
        Hours, never too few; 0 when it is already warm enough.

    Raises
    ------
    OutOfRange
        When the warmer is not warmer than what the core is to reach, or an input is outside its range.
    """
    return _soak_h(cartridge, film_w_m2k, (start_c, warmer_c, core_c), "core")


def mean_soak_h(cartridge: Cartridge, film_w_m2k: float, start_c: float, warmer_c: float, mean_c: float) -> float:
    """Hours in the warmer until the average over the volume reaches ``mean_c``; otherwise as :func:`soak_h`.

    Raises
    ------
    OutOfRange
        When the warmer is not warmer than what the mean is to reach, or an input is outside its range.
    """
    return _soak_h(cartridge, film_w_m2k, (start_c, warmer_c, mean_c), "mean")


@lru_cache(maxsize=4096)
def out_of_warmer_min(cartridge: Cartridge, film_w_m2k: float, from_c: float, bench_c: float, mean_floor_c: float) -> float:
    """Minutes on the bench until the average over the volume has fallen to the lowest temperature for spraying.

    Parameters
    ----------
    cartridge : Cartridge
        Warmed through to ``from_c``.
    film_w_m2k : float
        Film coefficient on the bench, W/m²K.
    from_c, bench_c, mean_floor_c : float
        Temperature it leaves the warmer with, of the air at the bench, and the lowest mean allowed, °C.

    Returns
    -------
    float
        Minutes, never too many; 0 when it is too cold from the start, infinite when the bench itself is warm enough.

    Raises
    ------
    OutOfRange
        When an input is outside its range.
    """
    _require_temperatures(from_c, bench_c, mean_floor_c)
    if from_c < mean_floor_c:
        return 0.0
    if bench_c >= mean_floor_c:
        return math.inf
    left = (mean_floor_c - bench_c) / (from_c - bench_c)
    return _crossing_s(lambda seconds: excess(cartridge, film_w_m2k, seconds, "mean"), left)[0] / 60.0


@lru_cache(maxsize=4096)
def _soak_h(cartridge: Cartridge, film_w_m2k: float, temps_c: tuple[float, float, float], where: Where) -> float:
    start_c, warmer_c, goal_c = temps_c
    _require_temperatures(*temps_c)
    if warmer_c <= goal_c:
        raise OutOfRange("temperature of the warmer, °C", warmer_c, f"above the {goal_c:g} that the cartridge is to reach")
    if start_c >= goal_c:
        return 0.0
    left = (warmer_c - goal_c) / (warmer_c - start_c)
    return _crossing_s(lambda seconds: excess(cartridge, film_w_m2k, seconds, where), left)[1] / _SECONDS_AN_HOUR


def _crossing_s(share_left: Callable[[float], float], goal: float) -> tuple[float, float]:
    """Find the times just before and just after a falling share passes ``goal``, a millisecond apart at the most."""
    before, after = 0.0, 60.0
    while share_left(after) > goal:
        before, after = after, 2.0 * after
        if after > _LONGEST_S:
            raise OutOfRange("time to the temperature wanted, h", after / _SECONDS_AN_HOUR, "0 to 1000")
    while after - before > 1e-3:
        middle = 0.5 * (before + after)
        before, after = (middle, after) if share_left(middle) > goal else (before, middle)
    return before, after


def _require_temperatures(*temps_c: float) -> None:
    for temp_c in temps_c:
        require_within("temperature of a cartridge or the air around it, °C", temp_c, -40.0, 100.0)
