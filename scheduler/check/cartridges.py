"""How a warmer brings the cartridges of a film step to spraying temperature and how they cool on the bench."""

from dataclasses import dataclass
from functools import lru_cache

from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.physics.ranges import OutOfRange
from scheduler.physics.warm_up import Cartridge, excess, soak_h
from scheduler.shop.product_sheet import Product
from scheduler.shop.resources import Equipment


@dataclass(frozen=True, slots=True)
class Warming:
    """Cartridges of one product from one warmer.

    Attributes
    ----------
    soak_h : float
        Time in the warmer until the core may be sprayed, h.
    warmer_c, spray_min_c : float
        Temperature of the warmer, and the coldest material that may be sprayed, °C.
    kept : float
        Share of the difference to the bench that is left, on average over the cartridge, after the time that one lies
        outside the warmer.
    cartridge, film_w_m2k, bench_film_w_m2k, store_c
        What it is, the film coefficients in the warmer and outside, W/m²K, and the temperature of the store, °C.
    """

    soak_h: float
    warmer_c: float
    spray_min_c: float
    kept: float
    cartridge: Cartridge
    film_w_m2k: float
    bench_film_w_m2k: float
    store_c: float

    def after_bench_c(self, bench_c: float) -> float:
        """Return the mean temperature of a cartridge that has lain in air of ``bench_c``, °C."""
        return bench_c + (self.warmer_c - bench_c) * self.kept

    def used_c(self, bench_c: float, out_h: float) -> float:
        """Return the mean temperature of a cartridge after a step of ``out_h`` hours in air of ``bench_c``, °C."""
        return self._towards(bench_c, self.warmer_c, out_h)

    def rested_c(self, from_c: float, rest_h: float) -> float:
        """Return the mean temperature after ``rest_h`` hours in the store, °C."""
        return self._towards(self.store_c, from_c, rest_h)

    def soak_from_h(self, from_c: float) -> float:
        """Return the time in the warmer from a temperature until the core may be sprayed, h."""
        return _soak_from_h(self.cartridge, self.film_w_m2k, from_c, self.warmer_c, self.spray_min_c)

    def _towards(self, air_c: float, from_c: float, out_h: float) -> float:
        if out_h <= 0:
            return from_c
        return air_c + (from_c - air_c) * _excess(self.cartridge, self.bench_film_w_m2k, 3600.0 * out_h)


def needs_warming(job: Job) -> bool:
    """Tell whether a job sprays cartridges whose sheet states how they warm up and how warm they must be."""
    film = job.need.film if job.sprays_cartridges else None
    return film is not None and film.product.spray_min_c is not None and _cartridge(film.product) is not None


def warming(facts: Facts, job: Job, warmer: Equipment) -> Warming | str | None:
    """Warming of a job's cartridges, words if the warmer cannot do it, None if the product needs none."""
    film, site = job.need.film, facts.shop.site
    cartridge = _cartridge(film.product) if film else None
    if cartridge is None or film is None or film.product.spray_min_c is None:
        return None
    if warmer.set_point_c is None or warmer.film_w_m2k is None:
        return "its temperature or film coefficient is not stated"
    bench = (site.store_temp_c, site.bench_film_w_m2k, 60.0 * site.spray_load_min)
    return _warming(cartridge, (warmer.set_point_c, warmer.film_w_m2k), bench, film.product.spray_min_c)


def _cartridge(product: Product) -> Cartridge | None:
    """Return the cartridge as conduction sees it, None where the sheet leaves a property open."""
    stated = (
        product.radius_mm,
        product.length_mm,
        product.conductivity_w_mk,
        product.density_kg_m3,
        product.specific_heat_j_kgk,
    )
    known = tuple(value for value in stated if value is not None)
    return _stated(known) if len(known) == len(stated) else None


@lru_cache(maxsize=256)
def _stated(known: tuple[float, ...]) -> Cartridge:
    return Cartridge(*known)


@lru_cache(maxsize=256)
def _warming(
    cartridge: Cartridge, warmer: tuple[float, float], site: tuple[float, float, float], spray_min_c: float
) -> Warming | str:
    (warmer_c, film_w_m2k), (store_c, bench_film_w_m2k, bench_s) = warmer, site
    try:
        soak = soak_h(cartridge, film_w_m2k, store_c, warmer_c, spray_min_c)
        kept = excess(cartridge, bench_film_w_m2k, bench_s, "mean")
    except OutOfRange as fault:
        return str(fault)
    return Warming(soak, warmer_c, spray_min_c, kept, cartridge, film_w_m2k, bench_film_w_m2k, store_c)


@lru_cache(maxsize=4096)
def _soak_from_h(cartridge: Cartridge, film_w_m2k: float, from_c: float, warmer_c: float, spray_min_c: float) -> float:
    return soak_h(cartridge, film_w_m2k, from_c, warmer_c, spray_min_c)


@lru_cache(maxsize=4096)
def _excess(cartridge: Cartridge, film_w_m2k: float, seconds: float) -> float:
    return excess(cartridge, film_w_m2k, seconds, "mean")
