"""What the plan has until a moment, as events: for a day that went as planned but for what was reported otherwise."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from operator import itemgetter

from scheduler.record.desk import Desk
from scheduler.record.enter import admit
from scheduler.record.events import AnyEvent, Event, Finished, Started, fingerprint
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
    for _, event in sorted((*_ends(desk, until, by), *_of_plan(desk, until, by)), key=itemgetter(0)):
        if not {event.unit_id, event.work_id} & besides and not admit(at, event).objections:
            found.append(event)
            at = at.with_event(event)
    return found


def _ends(desk: Desk, until: datetime, by: str) -> Iterator[tuple[datetime, Started | Finished]]:
    """Yield the ends of steps that are under way, as they were expected when they were begun."""
    for run in desk.progress.runs.values():
        work = desk.works.get((run.unit_id, run.step))
        end = run.planned_end or (work.end if work is not None else None)
        if run.ended_at is None and end is not None and end <= until:
            yield end, _sealed(Finished, desk, {"unit_id": run.unit_id, "step": run.step, "happened_at": end}, by)


def _of_plan(desk: Desk, until: datetime, by: str) -> Iterator[tuple[datetime, Started | Finished]]:
    """Yield the steps of the plan of which nothing is recorded, and those that are to be done again after what was recorded."""
    done = {(row.unit_id, row.step) for row in desk.shop_now.done}
    for work in sorted(desk.schedule.work, key=lambda work: (work.start, work.work_id)):
        run = desk.run_of(work.unit_id, work.name)
        again = run is not None and run.ended_at is not None and work.start >= run.ended_at
        broken_off = run is not None and run.stopped is not None and not run.stopped.is_part
        fresh = run is None or broken_off or (again and (work.unit_id, work.name) not in done)
        if fresh and not work.done and work.start <= until:
            yield work.start, _planned(desk, work, until, by)


def _planned(desk: Desk, work: Work, until: datetime, by: str) -> Started | Finished:
    said = {
        "unit_id": work.unit_id,
        "step": work.name,
        "bay_id": work.bay_id,
        "people": tuple(who.person_id for who in work.people),
        "tools": work.tools,
        "taken": taken_from_plan(work),
    }
    if work.end <= until:
        return _sealed(Finished, desk, {**said, "happened_at": work.end, "started_at": work.start}, by)
    return _sealed(Started, desk, {**said, "happened_at": work.start, "planned_end": work.end}, by)


def _sealed(model: type[Event], desk: Desk, fields: dict[str, object], by: str) -> Started | Finished:
    event = model.model_validate({"recorded_at": desk.now, "by": by, "note": "as planned", **fields})
    assert isinstance(event, Started | Finished)
    return event.model_copy(update={"id": fingerprint(event)})
