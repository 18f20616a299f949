"""Pinned and done steps that the unit does not have, that cannot start there, or that were done out of order."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault, choose
from scheduler.shop.fixed import Done, Pinned, Warming
from scheduler.shop.shop import Shop

_NO_BAY: Final = frozenset({"yard"})


def step_names(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report steps that the unit, as its surfaces and the methods are, does not need."""
    if not draft.whole("methods", "surfaces", "coating_systems"):
        return
    rows: list[tuple[str, int, str, str]] = [("pinned", line, r.unit_id, r.step) for line, r in draft.rows("pinned", Pinned)]
    rows += [("done", line, r.unit_id, r.step) for line, r in draft.rows("done", Done)]
    rows += [("warming", line, r.unit_id, r.step) for line, r in draft.rows("warming", Warming)]
    for table, line, unit_id, step in rows:
        names = _names(draft, unit_id)
        if unit_id in draft.needs and step not in names:
            cure = choose(step, names, f"use one of {', '.join(names)}")
            yield draft.fault(table, line, "step", step, f"{unit_id} has no such step", cure)


def pinned_starts(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report pinned starts outside the horizon or off the grid."""
    site = shop.site
    for line, row in draft.rows("pinned", Pinned):
        value = row.start_at.isoformat()
        if not site.plan_from <= row.start_at < site.plan_until:
            yield draft.fault(
                "pinned", line, "start_at", value, "outside plan_from to plan_until", "move the start into the plan"
            )
        if row.start_at.timestamp() % (site.grid_min * 60):
            problem = f"steps start every {site.grid_min} minutes (grid_min)"
            yield draft.fault("pinned", line, "start_at", value, problem, "move the start to the grid, or choose a finer one")


def warming_since(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report cartridges that would be put into a warmer only after the plan begins: the plan itself says when to load."""
    for line, row in draft.rows("warming", Warming):
        if row.loaded_at >= shop.site.plan_from:
            problem, cure = "the plan begins before, and says itself when to load", "correct the time, or delete the row"
            yield draft.fault("warming", line, "loaded_at", row.loaded_at.isoformat(), problem, cure)


def done_times(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report done steps that ended before they started, or started before the step ahead of them had ended."""
    for line, row in draft.rows("done", Done):
        if row.ended_at <= row.started_at:
            problem = "the step ended before it started, or at once"
            yield draft.fault("done", line, "ended_at", row.ended_at.isoformat(), problem, "correct the times")
    for unit_id, rows in _done_by_unit(draft).items():
        for (_, before), (line, after) in pairwise(_in_order(rows, _names(draft, unit_id))):
            if after.started_at < before.ended_at:
                problem = f"started before {before.step} of the unit had ended, {before.ended_at.isoformat()}"
                yield draft.fault("done", line, "started_at", after.started_at.isoformat(), problem, "correct the times")


def under_way(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report steps under way when the plan begins of which nobody knows who is on them, or where."""
    for line, row in draft.rows("done", Done):
        need = next((n for n in draft.needs.get(row.unit_id, ()) if n.name == row.step), None)
        if need is None or need.method is None or not row.is_under_way(shop.site.plan_from):
            continue
        problem = f"{row.step} of {row.unit_id} is under way when the plan begins"
        if not row.people and need.method.people:
            yield draft.fault("done", line, "people", None, f"{problem} and nobody is on it", "name the people who are on it")
        if row.bay_id is None and need.method.stage not in _NO_BAY:
            yield draft.fault("done", line, "bay_id", None, f"{problem} and has no bay", "name the bay")


def done_without_gaps(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report done steps although a step ahead of them in the unit's order is not done."""
    if not draft.whole("done", "methods", "surfaces", "coating_systems"):
        return
    for unit_id, rows in _done_by_unit(draft).items():
        names = _names(draft, unit_id)
        done = {row.step for _, row in rows}
        known = _in_order(rows, names)
        if not known:
            continue
        line, last = known[-1]
        gaps = [name for name in names[: names.index(last.step)] if name not in done]
        if gaps:
            problem = f"{', '.join(gaps)} of {unit_id} come before it and are not done"
            yield draft.fault("done", line, "step", last.step, problem, "add rows for them, or delete this one")


def _names(draft: Draft, unit_id: str) -> list[str]:
    return [need.name for need in draft.needs.get(unit_id, ())]


def _done_by_unit(draft: Draft) -> dict[str, list[tuple[int, Done]]]:
    units: dict[str, list[tuple[int, Done]]] = {}
    for line, row in draft.rows("done", Done):
        units.setdefault(row.unit_id, []).append((line, row))
    return units


def _in_order(rows: Iterable[tuple[int, Done]], names: Sequence[str]) -> list[tuple[int, Done]]:
    """Rows of steps that the unit has, in technical order."""
    return sorted((r for r in rows if r[1].step in names), key=lambda r: names.index(r[1].step))
