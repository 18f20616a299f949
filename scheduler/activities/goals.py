"""Due dates on the grid."""

from bisect import bisect_left
from datetime import datetime

import numpy as np

from scheduler.activities.network import Curve, Due
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
