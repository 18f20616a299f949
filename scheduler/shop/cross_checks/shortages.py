"""Products whose stock cannot cover the coats, whatever the schedule: which coats starve, and the order that cures it."""

from collections.abc import Iterator
from datetime import timedelta
from math import ceil
from typing import Final

from scheduler.shop.cross_checks.stock_cover import Coat, Shortage, coats_of, stocks_of, worst
from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot

_TOLD: Final = 3


def shortages(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report products in use that no schedule can get by with."""
    whole = draft.whole("lots", "opened", "units", "surfaces", "coating_systems", "products")
    if not (whole and shop.site.is_plannable and all(_makes_sense(shop, lot) for lot in shop.lots)):
        return
    for product in shop.products:
        coats = list(coats_of(shop, draft.needs, product)) if product.usable_ml > 0 else []
        found = worst(shop, coats, list(stocks_of(shop, product)))
        if found is not None:
            yield _fault(draft, shop, product, found)


def _makes_sense(shop: Shop, lot: Lot) -> bool:
    """Whether a lot can be counted; what is wrong with it is told by other checks."""
    return lot.product_id in shop.product_by_id and lot.arrives_on <= lot.expires_on


def _fault(draft: Draft, shop: Shop, product: Product, short: Shortage) -> Fault:
    days = f"from {short.first.isoformat()} to {short.last.isoformat()}"
    packs = ceil(short.short_ml / product.usable_ml)
    problem = (
        f"coats take {short.needed_ml / 1000:.1f} L of {product.product_id} {days}, what is in date then gives "
        f"{short.there_ml / 1000:.1f} L; {_named(short.starving)}{_expired(shop, product, short)}"
    )
    line = next((n for n, lot in _lots(draft, product)), None)
    return draft.fault("lots", line, "packs", None, problem, _order(shop, product, short, packs))


def _lots(draft: Draft, product: Product) -> Iterator[tuple[int, Lot]]:
    yield from ((line, lot) for line, lot in draft.rows("lots", Lot) if lot.product_id == product.product_id)


def _named(starving: tuple[Coat, ...]) -> str:
    names = ", ".join(f"{coat.unit_id} {coat.name}" for coat in starving[:_TOLD])
    more = len(starving) - _TOLD
    return f"{names}{f' and {more} more' if more > 0 else ''} starve" + ("s" if len(starving) == 1 else "")


def _expired(shop: Shop, product: Product, short: Shortage) -> str:
    """Lots that are past their date before the stretch begins."""
    old = [lot.lot_id for lot in shop.lots if lot.product_id == product.product_id and lot.expires_on < short.first]
    return f" (past their date by then: {', '.join(old[:_TOLD])})" if old else ""


def _order(shop: Shop, product: Product, short: Shortage, packs: int) -> str:
    """The order that would cure it: how much, when it has to be there and when to order."""
    begins = shop.local(shop.site.plan_from).date()
    wanted = max(short.first, min(coat.first for coat in short.starving))
    order_by = wanted - timedelta(days=ceil(product.lead_time_d))
    when = f"by {order_by.isoformat()}" if order_by >= begins else "at once"
    noun = f"pack{'s' if packs != 1 else ''} of {product.product_id}"
    arrives = max(wanted, begins + timedelta(days=ceil(product.lead_time_d)))
    there = f"to be there on {arrives.isoformat()} ({product.lead_time_d:g} d lead time)"
    return f"order {packs} {noun} {when}, {there}, and add the lot"
