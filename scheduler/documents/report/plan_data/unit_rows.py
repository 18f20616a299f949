"""Units and orders of a plan as rows of numbers."""

from scheduler.documents.report.plan_data.axis import Axis
from scheduler.documents.report.plan_data.text_pool import TextPool
from scheduler.documents.report.plan_data.work_rows import units_of
from scheduler.documents.sheets.unit_steps import size_of
from scheduler.documents.state.delivery_dates import standing
from scheduler.documents.words.work_words import WorkWords


def order_rows(words: WorkWords, axis: Axis, pool: TextPool) -> list[list[object]]:
    """Orders of the units: id, customer, due, delivered and standing; times are empty for what is not delivered in the plan."""
    dates = {delivery.order_id: delivery for delivery in words.schedule.deliveries}
    rows = []
    for order_id in _orders(words):
        date = dates.get(order_id)
        times = [axis.at(date.due_at), axis.at(date.delivered_at), pool(standing(date))] if date else [None, None, 0]
        rows.append([pool(order_id), pool(words.customer(order_id)), *times])
    return rows


def unit_rows(words: WorkWords, pool: TextPool) -> list[list[object]]:
    """Units in the order in which work on them begins: id, name, order, size."""
    orders = {order_id: place for place, order_id in enumerate(_orders(words))}
    order_of = {work.unit_id: work.order_id for work in words.schedule.work}
    return [
        [unit_id, pool(words.unit(unit_id)), orders[order_of[unit_id]], pool(size_of(words, unit_id))]
        for unit_id in units_of(words.schedule)
    ]


def _orders(words: WorkWords) -> tuple[str, ...]:
    return tuple(dict.fromkeys(work.order_id for work in words.schedule.work))
