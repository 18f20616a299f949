"""Figures that a schedule states of itself, goals and delivery dates, beside those recomputed."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from math import isclose

from scheduler.check.facts import Facts
from scheduler.check.goals import days_late, handed_back
from scheduler.schedule.schedule import DeliveryDate


def mismatches(facts: Facts, goals: dict[str, float]) -> Iterator[str]:
    """Yield in words every goal and delivery date of the schedule that differs from the one recomputed.

    Parameters
    ----------
    facts : Facts
    goals : dict
        Goals recomputed, by name.
    """
    stated = {goal.name: goal.value for goal in facts.schedule.goals}
    for name, value in goals.items():
        if name not in stated:
            yield f"goal {name} is not stated, it is {value:g}"
        elif not isclose(stated[name], value, abs_tol=1e-6):
            yield f"goal {name} is stated as {stated[name]:g}, it is {value:g}"
    yield from (f"goal {name} is stated, but not one that can be recomputed" for name in stated if name not in goals)
    yield from _deliveries(facts)


def _deliveries(facts: Facts) -> Iterator[str]:
    listed, back = {row.order_id: row for row in facts.schedule.deliveries}, handed_back(facts)
    for order in facts.shop.orders:
        if order.order_id in listed:
            yield from _delivery(facts, listed[order.order_id], back)
        elif facts.shop.units_of[order.order_id]:
            yield f"order {order.order_id} has no delivery date"
    yield from (f"delivery of {name}: the shop has no such order" for name in listed if name not in facts.shop.order_by_id)


def _delivery(facts: Facts, row: DeliveryDate, back: Mapping[str, datetime]) -> Iterator[str]:
    order = facts.shop.order_by_id[row.order_id]
    units = {unit.unit_id: back.get(unit.unit_id) for unit in facts.shop.units_of[order.order_id]}
    if {unit_id: facts.utc(moment) for unit_id, moment in row.units.items()} != units:
        yield f"delivery of {row.order_id}: the hand-over of its units differs from their dispatch"
    last = max((moment for moment in units.values() if moment), default=None)
    if last is None or facts.utc(row.delivered_at) != last:
        stated, true = facts.when(facts.utc(row.delivered_at)), facts.when(last) if last else "never"
        yield f"delivery of {row.order_id} is stated as {stated}, its last unit is back {true}"
    elif row.days_late != days_late(facts, last, order.due_at):
        yield f"delivery of {row.order_id} is stated as {row.days_late} days late, it is {days_late(facts, last, order.due_at)}"
    if facts.utc(row.due_at) != facts.utc(order.due_at):
        yield f"delivery of {row.order_id}: the due date differs from the order's"
