"""Stock on the grid: lots and opened packs, from when they are there to when they are out of date."""

import math
from datetime import datetime, time, timedelta

from scheduler.activities.network import Source
from scheduler.activities.time_grid import TimeGrid
from scheduler.material.pack import at_most_ul
from scheduler.shop.shop import Shop


def sources_of(shop: Shop, grid: TimeGrid) -> tuple[Source, ...]:
    """Opened packs and lots, first expired first; an opened pack that gives nothing after its purge is no source."""
    lots = [(1, lot.expires_on, _lot(shop, grid, i)) for i, lot in enumerate(shop.lots)]
    opened = [(0, pack.opened_on, _opened(shop, grid, i)) for i, pack in enumerate(shop.opened)]
    rows = [*lots, *(row for row in opened if row[2].gives_ul > 0)]
    return tuple(source for _, _, source in sorted(rows, key=lambda row: (row[0], row[1], row[2].key)))


def _slots_of_days(shop: Shop, grid: TimeGrid, first: datetime, after: datetime) -> tuple[int, int]:
    start = grid.minutes_at(shop.local(first))
    return int(grid.first_from(start)), int(grid.last_until(grid.minutes_at(shop.local(after)) - grid.grid_min)) + 1


def _lot(shop: Shop, grid: TimeGrid, i: int) -> Source:
    lot = shop.lots[i]
    after = datetime.combine(lot.expires_on + timedelta(days=1), time())
    first, last = _slots_of_days(shop, grid, datetime.combine(lot.arrives_on, time()), after)
    gives_ul = lot.packs * at_most_ul(shop.product_by_id[lot.product_id].usable_ml)
    return Source(lot.lot_id, lot.product_id, lot.packs, first, last, gives_ul, lot=lot.lot_id, opened_before=lot.opened_before)


def _opened(shop: Shop, grid: TimeGrid, i: int) -> Source:
    pack = shop.opened[i]
    lot = next(row for row in shop.lots if row.lot_id == pack.lot_id)
    product = shop.product_by_id[lot.product_id]
    lapses_on = min(pack.opened_on + timedelta(days=math.floor(product.open_life_d)), lot.expires_on)
    after = datetime.combine(lapses_on + timedelta(days=1), time())
    first, last = _slots_of_days(shop, grid, datetime.combine(pack.opened_on, time()), after)
    gives_ml = pack.remaining_ml - product.recap_purge_ml - product.end_heel_ml
    left_ul = at_most_ul(pack.remaining_ml)
    return Source(pack.pack_id, product.product_id, 1, first, last, max(0, at_most_ul(gives_ml)), left_ul, pack.lot_id)
