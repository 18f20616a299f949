"""What the plan has until a moment, as events: for a day that went as planned but for what was reported otherwise."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from scheduler.record.desk import Desk
from scheduler.record.enter import admit, with_event
from scheduler.record.events import AnyEvent, Event, Finished, Started, sealed
from scheduler.record.taken import taken_from_plan
from scheduler.schedule.schedule import Work


def as_planned(desk: Desk, until: datetime, besides: frozenset[str] = frozenset(), by: str = "") -> list[AnyEvent]:
    """Starts and ends of the plan's steps until a moment, as far as nothing else is recorded of them.

    Parameters
    ----------
    until : datetime
        Aware.
    besides : frozenset of str
        Units, or steps as UNIT/STEP, of which nothing is said.

    Returns
    -------
    list of AnyEvent
        Sealed, in the order of the plan. A step whose unit is not that far is left out.
    """
    found: list[AnyEvent] = []
    at = replace(desk, now=max(desk.now, until))
    for work in sorted(desk.schedule.work, key=lambda work: (work.start, work.work_id)):
        if work.done or work.start > until or {work.unit_id, work.work_id} & besides:
            continue
        for event in _events(desk, work, until, by):
            if not admit(at, event).objections:
                found.append(event)
                at = with_event(at, event)
    return found


def _events(desk: Desk, work: Work, until: datetime, by: str) -> Iterator[AnyEvent]:
    run = desk.run_of(work.unit_id, work.name)
    if run is not None and (run.ended_at is not None or run.failed is not None):
        return
    said = {
        "unit_id": work.unit_id,
        "step": work.name,
        "bay_id": work.bay_id,
        "people": tuple(who.person_id for who in work.people),
        "tools": work.tools,
        "taken": taken_from_plan(work),
    }
    if run is not None:
        end = run.planned_end or work.end
        if end <= until:
            yield _sealed(Finished, desk, {"unit_id": work.unit_id, "step": work.name, "happened_at": end}, by)
    elif work.end <= until:
        yield _sealed(Finished, desk, {**said, "happened_at": work.end, "started_at": work.start}, by)
    else:
        yield _sealed(Started, desk, {**said, "happened_at": work.start, "planned_end": work.end}, by)


def _sealed(model: type[Event], desk: Desk, fields: dict[str, object], by: str) -> AnyEvent:
    event = model.model_validate({"recorded_at": desk.now, "by": by, "note": "as planned", **fields})
    assert isinstance(event, Started | Finished)
    return sealed(event)
