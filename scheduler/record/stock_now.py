"""What is on the shelf: deliveries, rejected lots, packs opened and what is left in those that were recapped."""

from collections.abc import Iterable

from scheduler.record.events import Delivered, Plain, Rejected
from scheduler.record.progress import Progress
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot, Opened


def stock_now(shop: Shop, events: Iterable[Plain], progress: Progress) -> tuple[tuple[Lot, ...], tuple[Opened, ...]]:
    """Lots and opened packs as they are left."""
    told = tuple(events)
    rejected = {event.lot_id for event in told if isinstance(event, Rejected)}
    lots = {lot.lot_id: lot for lot in shop.lots}
    for event in told:
        if isinstance(event, Delivered):
            lots[event.lot_id] = _delivered(shop, event, lots.get(event.lot_id))
    kept = tuple(lot for lot in lots.values() if lot.lot_id not in rejected)
    return kept, tuple(pack for pack in shop.opened if pack.lot_id not in rejected)


def _delivered(shop: Shop, event: Delivered, listed: Lot | None) -> Lot:
    """Lot after a delivery: the announced one has come, or more packs of a lot that is there."""
    day = shop.local(event.happened_at).date()
    there = listed is not None and listed.arrives_on < day
    return Lot(
        lot_id=event.lot_id,
        product_id=event.product_id,
        packs=event.packs + (listed.packs if listed is not None and there else 0),
        arrives_on=listed.arrives_on if listed is not None and there else day,
        expires_on=event.expires_on,
    )
