"""Which lot and which cartridge went on which unit in which coat: the record that answers a question years later."""

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.schedule.schedule import Draw, Schedule, Work
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot


@dataclass(frozen=True, slots=True)
class Trace:
    """One pack in one coat of one unit."""

    work: Work
    draw: Draw
    product: Product
    lot: Lot


def traceability(shop: Shop, schedule: Schedule) -> tuple[Trace, ...]:
    """Every draw of a plan, by unit in the order of the table and by time."""
    place = {unit.unit_id: n for n, unit in enumerate(shop.units)}
    works = sorted(schedule.work, key=lambda work: (place.get(work.unit_id, len(place)), work.start, work.work_id))
    lots = {lot.lot_id: lot for lot in shop.lots}
    return tuple(trace for work in works for trace in _traces(shop, lots, work))


def _traces(shop: Shop, lots: dict[str, Lot], work: Work) -> Iterator[Trace]:
    for draw in work.draws:
        lot = lots.get(draw.lot_id)
        product = shop.product_by_id.get(lot.product_id) if lot is not None else None
        if lot is not None and product is not None:
            yield Trace(work, draw, product, lot)
