"""Horizons that are too short for the work, and by how much. Only attended time is counted: waiting comes on top."""

from collections.abc import Iterator
from datetime import datetime

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.need import Need
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit
from scheduler.shop.working_time import Span, merged

_COMPLETE = ("shifts", "crew", "closures", "methods")


def units(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report units whose attended steps take longer than there are working hours while they may be worked on."""
    if not draft.whole(*_COMPLETE) or not shop.site.is_plannable:
        return
    done = _done(draft)
    open_spans = merged((a, b) for stretches in draft.stretches.values() for a, b, _ in stretches)
    for line, unit in draft.rows("units", Unit):
        start, end = _may_work(shop, unit)
        need_min = sum(_slots(shop, need) for need in _left(draft, unit, done)) * shop.site.grid_min
        have_min = _overlap_min(open_spans, start, end)
        if open_spans and need_min > have_min and start < end:
            problem = (
                f"{unit.unit_id} takes at least {_h(need_min)} of attended work, from {start.isoformat()} to {end.isoformat()}"
                f" there are {_h(have_min)}: {_h(need_min - have_min)} short"
            )
            cure = "let the plan end later (plan_until), let the unit come earlier or leave later, or add shifts"
            yield draft.fault("units", line, "available_from", unit.available_from.isoformat(), problem, cure)


def crew(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report that all work together takes more hours than the whole crew has in the horizon."""
    if not draft.whole(*_COMPLETE, "units", "surfaces") or not shop.site.is_plannable:
        return
    stretches = [(a, b) for person in draft.stretches.values() for a, b, _ in person]
    have_min = sum((b - a).total_seconds() for a, b in stretches) / 60
    done = _done(draft)
    left = [need for unit in shop.units for need in _left(draft, unit, done)]
    need_min = sum(_slots(shop, need) * _heads(need) for need in left) * shop.site.grid_min
    if stretches and need_min > have_min:
        problem = (
            f"all work together takes at least {_h(need_min)} of people's time, the crew has {_h(have_min)} in the horizon:"
            f" {_h(need_min - have_min)} short"
        )
        cure = "let the plan end later, add people or shifts, or leave orders to the next plan"
        yield draft.site_fault("plan_until", shop.site.plan_until.isoformat(), problem, cure)


def _done(draft: Draft) -> set[tuple[str, str]]:
    """Units and steps that are done, also those of rows that are not valid."""
    return {(row.cells.get("unit_id", "").strip(), row.cells.get("step", "").strip()) for row in draft.tables["done"].raw}


def _left(draft: Draft, unit: Unit, done: set[tuple[str, str]]) -> list[Need]:
    return [n for n in draft.needs[unit.unit_id] if (unit.unit_id, n.name) not in done and n.method is not None]


def _slots(shop: Shop, need: Need) -> int:
    return need.slots(shop.site.grid_min)


def _heads(need: Need) -> int:
    return sum(count for _, count in need.method.crew_needs()) if need.method is not None else 0


def _may_work(shop: Shop, unit: Unit) -> Span:
    ends = [shop.site.plan_until, *([unit.must_leave_by] if unit.must_leave_by is not None else [])]
    return max(shop.site.plan_from, unit.available_from), min(ends)


def _overlap_min(spans: list[Span], start: datetime, end: datetime) -> float:
    return sum(max(0.0, (min(b, end) - max(a, start)).total_seconds()) for a, b in spans) / 60


def _h(minutes: float) -> str:
    return f"{minutes / 60:,.1f} h"
