"""How long a cartridge of a shop soaks in its warmers, from which temperature, and how cool a bench may be for it."""

import math

from scheduler.activities.windows import coolest_bench_c
from scheduler.physics.warm_up import Cartridge, excess, soak_h
from scheduler.shop.product_sheet import Product, Supply
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop


def coolest_set_point_c(shop: Shop) -> float:
    """Set point of the coolest warmer."""
    return min(w.set_point_c for w in shop.equipment_of(Kind.WARMER) if w.set_point_c is not None)


def bench_min_c(shop: Shop, product: Product) -> float | None:
    """Coolest air of a bench on which a cartridge stays in its spray band while it is loaded; None where nothing binds."""
    if product.supply is not Supply.CARTRIDGE or product.spray_min_c is None:
        return None
    site, cartridge = shop.site, cartridge_of(product)
    return coolest_bench_c(cartridge, site.bench_film_w_m2k, coolest_set_point_c(shop), product.spray_min_c, site.spray_load_min)


def used_c(shop: Shop, product: Product, coldest_c: float, film_min: float) -> float:
    """Mean temperature of a cartridge after a step of ``film_min`` outside the warmer, in the coldest air for spraying."""
    site, floor_c = shop.site, product.air_min_c
    bench_c = coldest_c if floor_c is None else max(coldest_c, floor_c)
    seconds = 60.0 * max(film_min, site.spray_load_min)
    left = excess(cartridge_of(product), site.bench_film_w_m2k, seconds, "mean")
    return bench_c + (coolest_set_point_c(shop) - bench_c) * left


def longest_soak_min(shop: Shop, product: Product, from_c: float) -> int:
    """Longest soak in any of the warmers, in whole minutes."""
    warmers = range(len(shop.equipment_of(Kind.WARMER)))
    return max(math.ceil(soak_min_in(shop, product, i, from_c)) for i in warmers)


def cartridge_of(product: Product) -> Cartridge:
    """Cartridge of a product as a body that warms up.

    Raises
    ------
    ValueError
        If the product has no warm-up properties; validation names the row before it comes to this.
    """
    sizes = (product.radius_mm, product.length_mm)
    stuff = (product.conductivity_w_mk, product.density_kg_m3, product.specific_heat_j_kgk)
    known = [v for v in (*sizes, *stuff) if v is not None]
    if len(known) != 5:
        msg = f"{product.product_id}: a cartridge needs its radius, length, conductivity, density and specific heat"
        raise ValueError(msg)
    return Cartridge(*known)


def soak_min_in(shop: Shop, product: Product, warmer: int, from_c: float) -> float:
    """Minutes of soaking in one of the shop's warmers from a temperature until the core can be sprayed."""
    row = shop.equipment_of(Kind.WARMER)[warmer]
    if row.set_point_c is None or row.film_w_m2k is None or product.spray_min_c is None:
        msg = f"{row.equipment_id}: a warmer needs its set point and film coefficient, {product.product_id} its spray band"
        raise ValueError(msg)
    return soak_h(cartridge_of(product), row.film_w_m2k, from_c, row.set_point_c, product.spray_min_c) * 60
