"""What is on the shelf: deliveries, rejected lots, packs opened and what is left in those that were recapped."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from scheduler.record.events import Delivered, Fate, Plain, Rejected
from scheduler.record.takes import Take
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot, Opened


@dataclass
class _Pack:
    """A pack that has been opened: what is left in it, and whether it is gone."""

    lot_id: str
    opened_on: date
    left_ml: float
    gone: bool = False


def stock_now(shop: Shop, events: Iterable[Plain], takes: Iterable[Take]) -> tuple[tuple[Lot, ...], tuple[Opened, ...]]:
    """Lots and opened packs as they are left."""
    told = tuple(events)
    lots = {lot.lot_id: lot for lot in shop.lots}
    for event in told:
        if isinstance(event, Delivered):
            lots[event.lot_id] = _delivered(shop, event, lots.get(event.lot_id))
    packs = _packs(shop, lots, takes)
    before = {pack.pack_id for pack in shop.opened}
    rejected = {event.lot_id for event in told if isinstance(event, Rejected)}
    new = [(pack.lot_id, name) for name, pack in packs.items() if name not in before]
    kept = [_left(lot, [name for lot_id, name in new if lot_id == lot.lot_id]) for lot in lots.values()]
    opened = (
        Opened(pack_id=name, lot_id=pack.lot_id, opened_on=pack.opened_on, remaining_ml=round(pack.left_ml, 3))
        for name, pack in packs.items()
        if not pack.gone and pack.lot_id not in rejected
    )
    return tuple(lot for lot in kept if lot.lot_id not in rejected), tuple(opened)


def _packs(shop: Shop, lots: dict[str, Lot], takes: Iterable[Take]) -> dict[str, _Pack]:
    """Opened packs after all takings, by name."""
    packs = {row.pack_id: _Pack(row.lot_id, row.opened_on, row.remaining_ml) for row in shop.opened}
    for take in takes:
        lot = lots.get(take.lot_id)
        if lot is None:
            continue
        product = shop.product_by_id[lot.product_id]
        pack = packs.setdefault(take.cartridge_id, _Pack(lot.lot_id, shop.local(take.at).date(), product.pack_ml))
        pack.left_ml = max(0.0, pack.left_ml - take.ml)
        worth_it = pack.left_ml > product.end_heel_ml + product.recap_purge_ml
        pack.gone = take.fate in {Fate.EMPTIED, Fate.THROWN_AWAY} or not worth_it
    return packs


def _left(lot: Lot, opened: list[str]) -> Lot:
    """A lot without the packs that were opened; what is opened next is numbered on from them."""
    numbers = [int(name.partition("#")[2]) for name in opened if "#" in name]
    packs, last = max(0, lot.packs - len(opened)), max([lot.opened_before, *numbers])
    return lot.model_copy(update={"packs": packs, "opened_before": last})


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
