"""Cartridge warm-up and cool-down against textbook tables, a library and a separate numerical solution."""

from math import inf

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu
from scipy.optimize import brentq
from scipy.sparse import dia_matrix, diags, eye, kron
from scipy.sparse.linalg import splu

from scheduler.physics.arrays import FloatArray
from scheduler.physics.finite_cylinder import cylinder_series, wall_series
from scheduler.physics.still_air import air_at_one_atmosphere, nusselt_horizontal_cylinder
from scheduler.physics.warm_up import Cartridge, excess, film_coefficient_w_m2k, mean_soak_h, out_of_warmer_min, soak_h

WARMER_C = 29.444
SPRAYABLE_C = 26.667


def cartridge(radius_mm: float) -> Cartridge:
    """Give the cartridge of the published cases, 250 mm long."""
    return Cartridge(radius_mm, 250.0, 0.20, 1100.0, 1900.0)


# Bi, cylinder z1 and C1, wall z1 and C1: Incropera, Table 5.1 (from memory; printed to four digits).
@pytest.mark.parametrize(
    ("biot", "cylinder_root", "cylinder_c1", "wall_root", "wall_c1"),
    [
        (0.1, 0.44168, 1.02458, 0.31105, 1.01609),
        (0.5, 0.94077, 1.11425, 0.65327, 1.07013),
        (1.0, 1.25578, 1.20709, 0.86033, 1.11913),
        (2.0, 1.59945, 1.33838, 1.07687, 1.17846),
        (10.0, 2.17950, 1.56769, 1.42887, 1.26196),
    ],
)
def test_first_terms_are_those_of_the_textbook(
    biot: float, cylinder_root: float, cylinder_c1: float, wall_root: float, wall_c1: float
) -> None:
    """First root and coefficient of both directions, within 2e-4."""
    cylinder, wall = cylinder_series(biot), wall_series(biot)
    ours = [cylinder.root[0], cylinder.core[0], wall.root[0], wall.core[0]]
    assert ours == pytest.approx([cylinder_root, cylinder_c1, wall_root, wall_c1], abs=2e-4)


# R mm, h W/m²K; hours to 26.667 °C: core and mean from 10 °C, core from 15 °C; lumped estimate; bench minutes at 10 °C.
# Incropera ch. 5 (from memory), 60 terms; a finite-volume solve made apart from this project agreed to four digits.
CASES = [
    (25.0, 8.0, 2.4534, 2.0695, 2.1125, 1.6047, 8.896),
    (30.0, 5.0, 4.3456, 3.7034, 3.7387, 3.0260, 16.33),
    (30.0, 8.0, 3.1092, 2.5523, 2.6841, 1.8913, 10.68),
    (30.0, 12.0, 2.4206, 1.9129, 2.0976, 1.2608, 7.48),
    (35.0, 8.0, 3.8147, 3.0553, 3.3020, 2.1678, 12.45),
]


@pytest.mark.parametrize(("radius", "film", "core10", "mean10", "core15", "lumped", "bench"), CASES)
def test_soak_and_bench_times(
    radius: float, film: float, core10: float, mean10: float, core15: float, lumped: float, bench: float
) -> None:
    """Hours in the warmer and minutes on the bench within .5 %, and the lumped estimate is always too short."""
    body = cartridge(radius)
    soak = soak_h(body, film, 10.0, WARMER_C, SPRAYABLE_C)
    hours = [soak, mean_soak_h(body, film, 10.0, WARMER_C, SPRAYABLE_C), soak_h(body, film, 15.0, WARMER_C, SPRAYABLE_C)]
    assert hours == pytest.approx([core10, mean10, core15], rel=5e-3)
    assert out_of_warmer_min(body, film, WARMER_C, 10.0, SPRAYABLE_C) == pytest.approx(bench, rel=5e-3)
    assert lumped_h(body, film) == pytest.approx(lumped, rel=5e-3)
    assert soak > 1.3 * lumped_h(body, film)


def lumped_h(body: Cartridge, film_w_m2k: float) -> float:
    """Hours by the lumped-capacity formula, which does not hold at these Biot numbers."""
    surface_per_volume = 2.0 / (body.radius_mm / 1000.0) + 2.0 / (body.length_mm / 1000.0)
    time_constant_s = body.density_kg_m3 * body.specific_heat_j_kgk / (film_w_m2k * surface_per_volume)
    return float(time_constant_s * np.log((WARMER_C - 10.0) / (WARMER_C - SPRAYABLE_C))) / 3600.0


def test_a_milder_bench_gives_more_minutes_and_a_warm_one_no_limit() -> None:
    """25.44 minutes on a 20 °C bench (the same series); infinite where the bench is warm enough."""
    assert out_of_warmer_min(cartridge(30.0), 8.0, WARMER_C, 20.0, SPRAYABLE_C) == pytest.approx(25.44, rel=5e-3)
    assert out_of_warmer_min(cartridge(30.0), 8.0, WARMER_C, 27.0, SPRAYABLE_C) == inf


@pytest.mark.parametrize(("hours", "core", "mean"), [(1.0, 0.618893, 0.455411), (4.0, 0.076323, 0.048960)])
def test_dimensionless_excess(hours: float, core: float, mean: float) -> None:
    """Share of the temperature difference left in a 30 x 250 mm cartridge at h = 8 (Incropera ch. 5; from memory)."""
    body = cartridge(30.0)
    assert excess(body, 8.0, 3600.0 * hours) == pytest.approx(core, abs=2e-6)
    assert excess(body, 8.0, 3600.0 * hours, "mean") == pytest.approx(mean, abs=2e-6)


def test_a_finite_volume_solution_made_here_agrees() -> None:
    """Conduction solved on a grid of rings, without any series, gives the same core and mean after two hours within 1 %."""
    body = cartridge(30.0)
    core, mean = finite_volume_excess(body, 8.0, 2.0, rings=24, slices=40)
    assert excess(body, 8.0, 7200.0) == pytest.approx(core, rel=0.01)
    assert excess(body, 8.0, 7200.0, "mean") == pytest.approx(mean, rel=0.01)


def finite_volume_excess(body: Cartridge, film_w_m2k: float, hours: float, rings: int, slices: int) -> tuple[float, float]:
    """Excess of the cell next to the core and of the volume mean, by finite volumes in r and in half the length."""
    radius, half = body.radius_mm / 1000.0, body.length_mm / 2000.0
    edges = np.linspace(0.0, radius, rings + 1)
    area = np.pi * np.diff(edges**2)
    radial = conductance(2.0 * np.pi * edges[1:], radius / rings, body.conductivity_w_mk, film_w_m2k)
    axial = conductance(np.ones(slices), half / slices, body.conductivity_w_mk, film_w_m2k)
    heat = body.density_kg_m3 * body.specific_heat_j_kgk
    length = half / slices
    loss = kron(eye(slices), diags(1.0 / area) @ radial) + kron(axial / length, eye(rings))
    step_s, count = 30.0, int(hours * 120)
    half_step = (0.5 * step_s / heat) * loss
    implicit = splu((eye(rings * slices) + half_step).tocsc())
    excess_now = np.ones(rings * slices)
    for _ in range(count):
        excess_now = implicit.solve(excess_now - half_step @ excess_now)
    weights = np.tile(area, slices)
    return float(excess_now[0]), float(weights @ excess_now / weights.sum())


def conductance(outer_area: FloatArray, width: float, conductivity: float, film: float) -> dia_matrix:
    """Tridiagonal matrix of heat flows between neighbours, the last cell also to the air through half a cell and the film."""
    between = conductivity * outer_area[:-1] / width
    to_air = outer_area[-1] / (0.5 * width / conductivity + 1.0 / film)
    main = np.concatenate((between, [to_air])) + np.concatenate(([0.0], between))
    return diags([main, -between, -between], [0, 1, -1])


def test_a_full_carton_takes_a_whole_night() -> None:
    """A 150 x 200 x 250 mm block takes 14.17 h (product of three walls): hence loading the warmer the evening before.

    That habit is common practice, no source: right for packed trays, on the careful side for loose cartridges.
    """
    body, film = cartridge(30.0), 8.0
    left = (WARMER_C - SPRAYABLE_C) / (WARMER_C - 10.0)

    def block_excess(hours: float) -> float:
        parts = [
            wall_series(film * half_m / body.conductivity_w_mk).excess(body.diffusivity_m2_s * 3600.0 * hours / half_m**2)
            for half_m in (0.075, 0.100, 0.125)
        ]
        return float(np.prod(parts))

    hours = brentq(lambda h: block_excess(h) - left, 1.0, 50.0)
    assert hours == pytest.approx(14.17, rel=5e-3)
    assert hours > soak_h(body, film, 10.0, WARMER_C, SPRAYABLE_C)


@pytest.mark.parametrize("hours", [0.1, 0.5, 2.0, 4.0])
def test_finite_cylinder_is_never_warmer_than_the_infinite_one(hours: float) -> None:
    """Two more faces can only speed things up."""
    body, seconds = cartridge(30.0), 3600.0 * hours
    fourier = body.diffusivity_m2_s * seconds / (body.radius_mm / 1000.0) ** 2
    infinite = cylinder_series(8.0 * 0.030 / 0.20).excess(fourier)
    assert excess(body, 8.0, seconds) <= infinite


def test_one_axial_term_would_be_wrong() -> None:
    """After an hour the first axial term alone claims more than the whole excess is left; sixty terms do not."""
    body, wall = cartridge(30.0), wall_series(8.0 * 0.125 / 0.20)
    fourier = body.diffusivity_m2_s * 3600.0 / 0.125**2
    assert fourier < 0.2
    assert wall.core[0] * np.exp(-(wall.root[0] ** 2) * fourier) > 1.1
    assert 0.99 < wall.excess(fourier) <= 1.0


@pytest.mark.parametrize(("rayleigh", "nusselt"), [(1e4, 4.37327), (1e5, 7.77761), (1e6, 14.53724)])
def test_still_air_nusselt_number(rayleigh: float, nusselt: float) -> None:
    """Churchill & Chu, horizontal cylinder, Pr .71: printed figures and the library ht agree with ours."""
    ours = nusselt_horizontal_cylinder(rayleigh, 0.71)
    assert ours == pytest.approx(nusselt, abs=1e-4)
    assert ours == pytest.approx(Nu_horizontal_cylinder_Churchill_Chu(Pr=0.71, Gr=rayleigh / 0.71), rel=1e-6)


@pytest.mark.parametrize("temp_c", [-10.0, 20.0, 60.0])
def test_air_properties(temp_c: float) -> None:
    """Conductivity and kinematic viscosity of air within 1.5 % of CoolProp, Prandtl number within 3 %."""
    kelvin = temp_c + 273.15
    conductivity, viscosity, prandtl = (PropsSI(key, "T", kelvin, "P", 101325.0, "Air") for key in ("L", "V", "PRANDTL"))
    density = PropsSI("D", "T", kelvin, "P", 101325.0, "Air")
    ours = air_at_one_atmosphere(temp_c)
    assert ours[:2] == pytest.approx([conductivity, viscosity / density], rel=0.015)
    assert ours[2] == pytest.approx(prandtl, rel=0.03)


def test_film_coefficient_of_a_60_mm_cartridge() -> None:
    """Still air and radiation at emissivity .9 give 8 to 10 W/m²K for a cartridge on its way from 20 to 27 °C."""
    coefficients = [film_coefficient_w_m2k(surface, WARMER_C, 60.0, 0.9) for surface in (20.0, 23.0, 26.0)]
    assert all(8.0 < value < 10.0 for value in coefficients)
