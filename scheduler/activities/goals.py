"""Due dates and stock on the grid."""

import math
from bisect import bisect_left
from datetime import datetime, time, timedelta

import numpy as np

from scheduler.activities.network import Curve, Due, Source
from scheduler.activities.time_grid import TimeGrid
from scheduler.schedule.deliveries import days_late
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Delivery, Order


def late_curve(grid: TimeGrid, due_at: datetime) -> Curve:
    """Days late for each slot at which the last work may end."""
    late: list[int] = [0] * (len(grid) + 1)
    due = due_at.astimezone(grid.zone)
    first = bisect_left(range(len(late)), 1, key=lambda e: days_late(grid.end_of(e).astimezone(grid.zone), due))
    late[first:] = np.maximum(1, grid.end_day[first:] - due.toordinal()).tolist()
    return tuple(late)


def due_of(shop: Shop, grid: TimeGrid, order: Order, members: tuple[int, ...]) -> Due:
    """Lateness of an order whose last activities are ``members``; hand-overs that are done count as they were."""
    handed_over = [d for d in shop.done if d.step == "dispatch" and shop.unit_by_id[d.unit_id].order_id == order.order_id]
    settled = tuple(days_late(shop.local(d.ended_at), shop.local(order.due_at)) for d in handed_over)
    together = order.delivery is Delivery.TOGETHER
    return Due(order.order_id, order.weight, together, members, late_curve(grid, order.due_at), settled)


def sources_of(shop: Shop, grid: TimeGrid) -> tuple[Source, ...]:
    """Lots and opened packs, first expired first; an opened pack that gives nothing after its purge is no source."""
    lots = [(lot.expires_on, 1, _lot(shop, grid, i)) for i, lot in enumerate(shop.lots)]
    opened = [(pack.opened_on, 0, _opened(shop, grid, i)) for i, pack in enumerate(shop.opened)]
    rows = [*lots, *(row for row in opened if row[2].opened_ml > 0)]
    return tuple(source for _, _, source in sorted(rows, key=lambda row: (row[1], row[0], row[2].key)))


def _slots_of_days(shop: Shop, grid: TimeGrid, first: datetime, after: datetime) -> tuple[int, int]:
    start = grid.minutes_at(shop.local(first))
    return int(grid.first_from(start)), int(grid.last_until(grid.minutes_at(shop.local(after)) - grid.grid_min)) + 1


def _lot(shop: Shop, grid: TimeGrid, i: int) -> Source:
    lot = shop.lots[i]
    after = datetime.combine(lot.expires_on + timedelta(days=1), time())
    first, last = _slots_of_days(shop, grid, datetime.combine(lot.arrives_on, time()), after)
    return Source(lot.lot_id, lot.product_id, lot.packs, first, last)


def _opened(shop: Shop, grid: TimeGrid, i: int) -> Source:
    pack = shop.opened[i]
    lot = next(row for row in shop.lots if row.lot_id == pack.lot_id)
    product = shop.product_by_id[lot.product_id]
    lapses_on = min(pack.opened_on + timedelta(days=math.floor(product.open_life_d)), lot.expires_on)
    after = datetime.combine(lapses_on + timedelta(days=1), time())
    first, last = _slots_of_days(shop, grid, datetime.combine(pack.opened_on, time()), after)
    gives_ml = max(0.0, pack.remaining_ml - product.recap_purge_ml - product.end_heel_ml)
    return Source(pack.pack_id, product.product_id, 1, first, last, gives_ml)
