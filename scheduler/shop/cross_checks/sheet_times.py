"""Products without sheet times, or without times at a temperature that they need, and times that contradict each other."""

from collections.abc import Iterator
from itertools import pairwise

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.methods import FILM_STEPS
from scheduler.shop.product_sheet import Product, ProductTime
from scheduler.shop.shop import Shop

_CLOCKS = ("tack_free_h", "rain_safe_h", "recoat_min_h", "recoat_max_h", "handle_h", "service_h")


def windows(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report recoat windows that close before they open."""
    for line, row in draft.rows("product_times", ProductTime):
        if row.recoat_max_h < row.recoat_min_h:
            problem = f"the recoat window closes before it opens ({row.recoat_min_h:g} h)"
            yield draft.fault("product_times", line, "recoat_max_h", f"{row.recoat_max_h:g}", problem, "correct the times")


def cold_is_slow(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report times that are longer where it is warmer."""
    rows = sorted(draft.rows("product_times", ProductTime), key=lambda row: (row[1].product_id, row[1].temp_c))
    for (_, cold), (line, warm) in pairwise(rows):
        for clock in _CLOCKS if cold.product_id == warm.product_id else ():
            slow, fast = getattr(cold, clock), getattr(warm, clock)
            if fast > slow:
                problem = f"longer than at {cold.temp_c:g} °C ({slow:g} h), although it is warmer"
                yield draft.fault("product_times", line, clock, f"{fast:g}", problem, "correct one of the two rows")


def needed_temperatures(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report products in use that have no times, none for the coldest steel allowed, or none for a heated bay."""
    if not draft.whole("product_times"):
        return
    used = products_used(draft)
    for line, product in draft.rows("products", Product):
        temps_c = [row.temp_c for row in shop.times_of[product.product_id]]
        if product.product_id not in used:
            continue
        if not temps_c:
            cure = "add the sheet's rows to product_times.csv"
            yield draft.fault("products", line, "product_id", product.product_id, "no sheet times for this product", cure)
            continue
        if product.steel_min_c is not None and product.steel_min_c < temps_c[0]:
            problem = f"the sheet times begin at {temps_c[0]:g} °C, colder steel is allowed"
            cure = "add the sheet's row for that temperature to product_times.csv, or raise steel_min_c"
            yield draft.fault("products", line, "steel_min_c", f"{product.steel_min_c:g}", problem, cure)
        yield from _heated_bays(draft, shop, product, (temps_c[0], temps_c[-1]))


def products_used(draft: Draft) -> set[str]:
    """Ids of the products that some unit gets."""
    needs = (need for unit in draft.needs.values() for need in unit if need.step in FILM_STEPS)
    return {need.product.product_id for need in needs if need.product is not None}


def _heated_bays(draft: Draft, shop: Shop, product: Product, range_c: tuple[float, float]) -> Iterator[Fault]:
    """Temperatures of heated bays with film steps that lie outside the product's table."""
    film_stages = {m.stage for m in shop.methods if m.step in FILM_STEPS}
    for bay in shop.bays:
        warm_c = bay.heated_to_c
        if warm_c is not None and film_stages & set(bay.stages) and not range_c[0] <= warm_c <= range_c[1]:
            line = draft.column("products", "product_id")[product.product_id]
            problem = f"bay {bay.bay_id} is kept at {warm_c:g} °C, the sheet times go from {range_c[0]:g} to {range_c[1]:g} °C"
            cure = "add the sheet's row for that temperature to product_times.csv"
            yield draft.fault("products", line, "product_id", product.product_id, problem, cure)
