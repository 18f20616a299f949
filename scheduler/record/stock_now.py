"""What is on the shelf: deliveries, rejected lots, packs opened and what is left in those that were recapped."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from scheduler.record.events import Delivered, Fate, Plain, Rejected, Used
from scheduler.record.report import Objection
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


def overdrawn(shop: Shop, events: Iterable[Plain], cartridge_id: str) -> Iterator[Objection]:
    """Yield what is taken from a pack beyond what it holds."""
    uses = [event for event in events if isinstance(event, Used) and event.cartridge_id == cartridge_id]
    holds = _holds_ml(shop, cartridge_id, uses[0].lot_id) if uses else None
    total = sum(event.ml for event in uses)
    if holds is not None and total > holds + 1e-9:
        problem = f"{total:g} mL in all are more than {cartridge_id} holds, {holds:g} mL"
        yield Objection("--ml", f"{uses[-1].ml:g}", problem, "correct the volume, or name the other cartridge")


def beyond_lot(shop: Shop, use: Used) -> Iterator[Objection]:
    """Yield why a pack cannot be one of its lot: the lot has no such number."""
    lot = next((lot for lot in shop.lots if lot.lot_id == use.lot_id), None)
    number = use.cartridge_id.removeprefix(f"{use.lot_id}#")
    if lot is not None and number.isdecimal() and int(number) > (last := lot.opened_before + lot.packs):
        cure = f"name one up to {lot.lot_id}#{last:03d}, or record first that more were delivered"
        yield Objection("cartridge", use.cartridge_id, f"{lot.lot_id} has {lot.packs} packs left, up to #{last:03d}", cure)


def _holds_ml(shop: Shop, cartridge_id: str, lot_id: str) -> float | None:
    """What a pack holds at the beginning: what stands in the table of opened packs, or what a new one holds."""
    opened = next((pack.remaining_ml for pack in shop.opened if pack.pack_id == cartridge_id), None)
    if opened is not None:
        return opened
    lot = next((lot for lot in shop.lots if lot.lot_id == lot_id), None)
    return shop.product_by_id[lot.product_id].pack_ml if lot is not None else None
