"""Lots and opened packs whose dates or contents cannot be."""

from collections.abc import Iterator

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot, Opened


def lots(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report lots that expire before they arrive."""
    for line, lot in draft.rows("lots", Lot):
        if lot.expires_on < lot.arrives_on:
            problem = f"the lot expires before it arrives on {lot.arrives_on}"
            yield draft.fault("lots", line, "expires_on", lot.expires_on, problem, "correct one of the two dates")


def opened(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report opened packs that hold more than a new one, or were opened before they arrived."""
    lot_by_id = {lot.lot_id: lot for lot in shop.lots}
    for line, pack in draft.rows("opened", Opened):
        lot = lot_by_id.get(pack.lot_id)
        product = shop.product_by_id.get(lot.product_id) if lot is not None else None
        if product is not None and pack.remaining_ml > product.pack_ml:
            problem = f"more than a full pack of {product.product_id} holds, {product.pack_ml:g} mL"
            yield draft.fault("opened", line, "remaining_ml", f"{pack.remaining_ml:g}", problem, "correct the volume")
        if lot is not None and pack.opened_on < lot.arrives_on:
            problem = f"opened before its lot arrives on {lot.arrives_on}"
            yield draft.fault("opened", line, "opened_on", pack.opened_on, problem, "correct one of the two dates")
