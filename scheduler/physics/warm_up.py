"""How long a cartridge soaks in the warmer, and how long it stays warm outside it.

A filled cartridge is a solid cylinder with a film of air around it, at one temperature when it goes in
(:mod:`scheduler.physics.finite_cylinder`). The Biot number is above .1, so a lumped estimate would be too short.
Soak times are the upper end of the search, times out of the warmer the lower end.

Heat under pressure can burst a cartridge and speeds up its reaction: the product's safety data sheet sets the highest
temperature, and nothing here says that a temperature is permitted.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from scheduler.physics.finite_cylinder import Where, cylinder_series, wall_series
from scheduler.physics.ranges import OutOfRange, require_positive, require_within
from scheduler.physics.still_air import film_coefficient_w_m2k

__all__ = ["Cartridge", "excess", "film_coefficient_w_m2k", "mean_soak_h", "out_of_warmer_min", "soak_h"]

_SECONDS_AN_HOUR = 3600.0
_LONGEST_S = 1000.0 * _SECONDS_AN_HOUR


@dataclass(frozen=True, slots=True)
class Cartridge:
    """A filled cartridge as conduction sees it.

    Attributes
    ----------
    radius_mm, length_mm : float
        Of the product inside it.
    conductivity_w_mk, density_kg_m3, specific_heat_j_kgk : float
        Of the product.

    Raises
    ------
    OutOfRange
        When a value is not positive.
    """

    radius_mm: float
    length_mm: float
    conductivity_w_mk: float
    density_kg_m3: float
    specific_heat_j_kgk: float

    def __post_init__(self) -> None:
        for name in self.__slots__:
            require_positive(f"cartridge {name}", getattr(self, name))

    @property
    def diffusivity_m2_s(self) -> float:
        """Thermal diffusivity, m²/s."""
        return self.conductivity_w_mk / (self.density_kg_m3 * self.specific_heat_j_kgk)


def excess(cartridge: Cartridge, film_w_m2k: float, seconds: float, where: Where = "core") -> float:
    """Share of the first temperature difference to the surroundings that is left after a time.

    Parameters
    ----------
    cartridge : Cartridge
        What is warmed or cools.
    film_w_m2k : float
        Film coefficient all round, W/m²K.
    seconds : float
        Time since it was brought in, s.
    where : {"core", "mean"}
        At the core, or as the average over the volume.

    Returns
    -------
    float
        1 at the start, towards 0.

    Raises
    ------
    OutOfRange
        When the film coefficient is not positive, or the Biot number is one the series cannot serve.
    """
    require_positive("film coefficient, W/m²K", film_w_m2k)
    answer = 1.0
    directions = ((cylinder_series, cartridge.radius_mm / 1000.0), (wall_series, cartridge.length_mm / 2000.0))
    for series, depth_m in directions:
        biot = film_w_m2k * depth_m / cartridge.conductivity_w_mk
        answer *= series(biot).excess(cartridge.diffusivity_m2_s * seconds / depth_m**2, where)
    return answer


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
