"""A filled cartridge as conduction sees it: a short solid cylinder in a film of air."""

from dataclasses import dataclass

from scheduler.physics.finite_cylinder import Where, cylinder_series, wall_series
from scheduler.physics.ranges import require_positive


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
