"""Delivery dates of a schedule's work."""

from collections.abc import Iterable
from datetime import datetime

from scheduler.schedule.schedule import DeliveryDate, Work
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop


def days_late(delivered_at: datetime, due_at: datetime) -> int:
    """Calendar days late; both moments on the site's clock. Late on the same day counts as one."""
    return 0 if delivered_at <= due_at else max(1, (delivered_at.date() - due_at.date()).days)


def delivery_dates(shop: Shop, work: Iterable[Work]) -> tuple[DeliveryDate, ...]:
    """Dates per order, in the order of the table; an order is delivered with its last unit."""
    rows = list(work)
    return tuple(d for order in shop.orders if (d := _date(shop, order.order_id, rows)) is not None)


def _date(shop: Shop, order_id: str, work: list[Work]) -> DeliveryDate | None:
    order = shop.order_by_id[order_id]
    mine = [w for w in work if w.order_id == order_id]
    units = {w.unit_id: shop.local(w.end) for w in mine if w.step is Step.DISPATCH}
    if not units:
        return None
    last, due_at = max(units.values()), shop.local(order.due_at)
    return DeliveryDate(
        order_id=order_id,
        customer=order.customer,
        due_at=due_at,
        delivered_at=last,
        units=units,
        days_late=days_late(last, due_at),
        typical_weather=any(w.typical_weather for w in mine),
    )
