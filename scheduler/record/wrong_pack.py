"""What cannot be true of material that was taken: more than the pack holds, or a number that its lot does not have."""

from collections.abc import Iterable, Iterator

from scheduler.record.desk import Desk
from scheduler.record.events import Delivered, Plain, Used
from scheduler.record.log import of_pack
from scheduler.record.report import Objection
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot


def overdrawn(shop: Shop, told: Iterable[Plain]) -> Iterator[Objection]:
    """Yield what is taken from a pack beyond what it holds, by the events of that pack."""
    uses = [event for event in told if isinstance(event, Used)]
    holds = _holds_ml(shop, uses[0]) if uses else None
    total = sum(event.ml for event in uses)
    if holds is not None and total > holds + 1e-9:
        problem = f"{total:g} mL in all are more than {uses[0].cartridge_id} holds, {holds:g} mL"
        yield Objection("--ml", f"{uses[-1].ml:g}", problem, "correct the volume, or name the other cartridge")


def beyond_lot(desk: Desk, use: Used) -> Iterator[Objection]:
    """Yield why a pack cannot be one of its lot: the lot has no such number."""
    number = use.cartridge_id.removeprefix(f"{use.lot_id}#")
    if not number.isdecimal() or _is_surely_there(desk, use, int(number)):
        return
    lot = _lot(desk.shop_now, use.lot_id) or _lot(desk.shop, use.lot_id)  # the second if the lot was rejected
    if lot is not None and int(number) > (last := lot.opened_before + lot.packs):
        cure = f"name one up to {lot.lot_id}#{last:03d}, or record first that more were delivered"
        yield Objection("cartridge", use.cartridge_id, f"{lot.lot_id} has {lot.packs} packs left, up to #{last:03d}", cure)


def _is_surely_there(desk: Desk, use: Used, number: int) -> bool:
    """Whether a lot that nothing was delivered of has the number, without a look at all that was taken of it.

    Packs that were opened and bear no number of their own, or one from before, leave fewer numbers for the others.
    """
    lot, told = _lot(desk.shop, use.lot_id), desk.log.stands
    if lot is None or any(isinstance(e, Delivered) and e.lot_id == use.lot_id for e in told.get("delivered", ())):
        return False
    bare = of_pack(use.lot_id)
    numbers = [subject.removeprefix(f"{bare}#") for subject in told if subject == bare or subject.startswith(f"{bare}#")]
    others = sum(not text.isdecimal() or int(text) <= lot.opened_before for text in numbers)
    return number <= lot.opened_before + lot.packs - others


def _lot(shop: Shop, lot_id: str) -> Lot | None:
    return next((lot for lot in shop.lots if lot.lot_id == lot_id), None)


def _holds_ml(shop: Shop, use: Used) -> float | None:
    """What a pack holds at the beginning: what stands in the table of opened packs, or what a new one holds."""
    opened = next((pack.remaining_ml for pack in shop.opened if pack.pack_id == use.cartridge_id), None)
    if opened is not None:
        return opened
    lot = _lot(shop, use.lot_id)
    return shop.product_by_id[lot.product_id].pack_ml if lot is not None else None
