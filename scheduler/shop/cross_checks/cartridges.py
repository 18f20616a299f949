"""Products and warmers that do not go together: no warm-up figures, no spray band, a set point outside it, too few slots."""

from collections.abc import Iterator

from scheduler.shop.cross_checks.sheet_times import products_used
from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.product_sheet import Product, Supply
from scheduler.shop.resources import Equipment, Kind
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit

_WARM_UP = ("radius_mm", "length_mm", "conductivity_w_mk", "density_kg_m3", "specific_heat_j_kgk")
_BAND = ("spray_min_c", "spray_max_c")


def contents(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report packs in which nothing is left to spray, and shares that leave no film."""
    for line, product in draft.rows("products", Product):
        if product.usable_ml <= 0:
            problem = "first shot and heel together are more than the pack holds: nothing is left to spray"
            yield draft.fault("products", line, "pack_ml", f"{product.pack_ml:g}", problem, "correct the volumes")
        if product.volume_solids_pct <= 0:
            yield draft.fault("products", line, "volume_solids_pct", "0", "no solids, no film", "write the sheet's value")
        if product.loss_pct >= 100:
            yield draft.fault(
                "products", line, "loss_pct", f"{product.loss_pct:g}", "everything is lost", "write a smaller share"
            )


def sheets(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report cartridge products in use without warm-up figures, gel time or spray band, or with a band upside down."""
    used = products_used(draft)
    for line, product in draft.rows("products", Product):
        if product.supply is not Supply.CARTRIDGE or product.product_id not in used:
            continue
        for column in (*_WARM_UP, *_BAND):
            if getattr(product, column) is None:
                problem = "needed for a product in cartridges, to work out how long they are warmed"
                yield draft.fault("products", line, column, None, problem, "write the sheet's value")
        if product.gel_time_min <= 0:
            problem = "a cartridge product has a gel time in its mixer"
            yield draft.fault("products", line, "gel_time_min", f"{product.gel_time_min:g}", problem, "write the sheet's value")
        yield from _band(draft, line, product)


def warmers(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report that no warmer is there, and set points outside the band of a cartridge product in use."""
    products = _cartridges(draft, shop)
    if products and draft.whole("equipment") and not any(e.count for e in shop.equipment_of(Kind.WARMER)):
        problem = f"{products[0].product_id} comes in cartridges and there is no warmer for them"
        yield draft.fault("equipment", None, "kind", None, problem, "add a warmer")
    for line, row in draft.rows("equipment", Equipment):
        if row.kind is Kind.WARMER and row.set_point_c is not None:
            for product in products:
                yield from _set_point(draft, line, row.set_point_c, product)


def warmer_slots(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report film steps that open more cartridges than all warmers hold."""
    slots = sum((e.slots or 0) * e.count for e in shop.equipment_of(Kind.WARMER))
    if not slots or not draft.whole("equipment"):
        return
    for line, unit in draft.rows("units", Unit):
        for need in draft.needs[unit.unit_id]:
            if need.product is not None and need.product.supply is Supply.CARTRIDGE and need.packs > slots:
                problem = f"{need.name} takes {need.packs} cartridges of {need.product.product_id}, all warmers hold {slots}"
                cure = "add a warmer, split the unit's surfaces over two units, or use larger cartridges"
                yield draft.fault("units", line, "unit_id", unit.unit_id, problem, cure)


def _cartridges(draft: Draft, shop: Shop) -> list[Product]:
    used = products_used(draft)
    return [p for p in shop.products if p.supply is Supply.CARTRIDGE and p.product_id in used]


def _band(draft: Draft, line: int, product: Product) -> Iterator[Fault]:
    low, target, high = product.spray_min_c, product.spray_target_c, product.spray_max_c
    known = [temp_c for temp_c in (low, target, high) if temp_c is not None]
    if known != sorted(known):
        value = " / ".join(f"{temp_c:g}" for temp_c in known)
        problem = "the spray temperatures do not rise from spray_min_c over spray_target_c to spray_max_c"
        yield draft.fault("products", line, "spray_min_c", value, problem, "correct the temperatures")


def _set_point(draft: Draft, line: int, set_point_c: float, product: Product) -> Iterator[Fault]:
    low, high, name = product.spray_min_c, product.spray_max_c, product.product_id
    problem = None
    if low is not None and set_point_c <= low:
        problem = f"a cartridge of {name} never gets warmer than its {low:g} °C (spray_min_c) in it"
    elif high is not None and set_point_c > high:
        problem = f"hotter than {name} may be sprayed ({high:g} °C, spray_max_c)"
    if problem is not None:
        cure = "set it inside the product's spray band"
        yield draft.fault("equipment", line, "set_point_c", f"{set_point_c:g}", problem, cure)
