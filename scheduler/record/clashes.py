"""What cannot be true of the events that stand: steps out of order, twice, or ended before they began."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime

from scheduler.record.desk import Desk
from scheduler.record.events import Correction, Failed, Finished, OfStep, Plain, Started, Stopped
from scheduler.record.report import Objection
from scheduler.shop.fixed import Done
from scheduler.shop.methods import Step

Clash = tuple[str, Objection]


@dataclass
class _Unit:
    """Where a unit is while its events are followed."""

    unit_id: str
    names: tuple[str, ...]
    ended: dict[str, datetime] = field(default_factory=dict)
    running: tuple[str, datetime] | None = None


def clashes(desk: Desk) -> Iterator[Clash]:
    """Follow all steps through the events and yield what cannot be, with the id of the event."""
    units: dict[str, _Unit] = {}
    history: dict[str, list[Done]] = {}
    for row in desk.shop.done:
        history.setdefault(row.unit_id, []).append(row)
    for event in desk.stands:
        if not isinstance(event, OfStep) or not isinstance(event, Started | Finished | Stopped | Failed):
            continue
        if event.unit_id not in units:
            ended = {row.step: row.ended_at for row in history.get(event.unit_id, ())}
            units[event.unit_id] = _Unit(event.unit_id, desk.steps_of(event.unit_id), ended)
        objection = _follow(desk, units[event.unit_id], event)
        if objection is not None:
            yield event.id, objection


def _follow(desk: Desk, unit: _Unit, event: Plain) -> Objection | None:
    """Take one event; return why it cannot be."""
    match event:
        case Started():
            wrong = _cannot_begin(desk, unit, event.step, event.happened_at)
            unit.running = unit.running if wrong else (event.step, event.happened_at)
            return wrong
        case Finished():
            return _finish(desk, unit, event)
        case Stopped():
            if unit.running is None or unit.running[0] != event.step:
                return _objection(desk, unit, event, "is not under way", "record that it was started first")
            unit.running = None
        case Failed():
            return _fail(desk, unit, event)
    return None


def _finish(desk: Desk, unit: _Unit, event: Finished) -> Objection | None:
    begun = unit.running is not None and unit.running[0] == event.step
    start = event.started_at or (unit.running[1] if begun and unit.running else event.happened_at)
    if event.happened_at <= start:
        return _objection(
            desk,
            unit,
            event,
            f"is finished at {_when(desk, event.happened_at)}, but was started at {_when(desk, start)}",
            "correct one of the two times",
        )
    if not begun:
        wrong = _cannot_begin(desk, unit, event.step, start)
        if wrong is not None:
            return wrong
    unit.running = None
    unit.ended[event.step] = event.happened_at
    return None


def _cannot_begin(desk: Desk, unit: _Unit, step: str, start: datetime) -> Objection | None:
    key = f"{unit.unit_id}/{step}"
    if step not in unit.names:
        return Objection("step", key, "the unit does not need it", f"use one of {', '.join(unit.names)}")
    if step in unit.ended:
        problem = f"has been finished already, at {_when(desk, unit.ended[step])}"
        return Objection("step", key, problem, "correct that event, or record that the step failed")
    if unit.running is not None:
        running, since = unit.running
        problem = f"{running} of the unit is under way since {_when(desk, since)}"
        return Objection("step", key, problem, f"record first that {running} was finished or stopped")
    before = unit.names[: unit.names.index(step)]
    gaps = [name for name in before if name not in unit.ended]
    if gaps:
        problem = f"{', '.join(gaps)} of the unit {'is' if len(gaps) == 1 else 'are'} not recorded as finished"
        return Objection("step", key, problem, "record that first, one by one or with as-planned")
    last = max((unit.ended[name] for name in before), default=None)
    if last is not None and start < last:
        problem = f"begins at {_when(desk, start)}, before {before[-1]} ended at {_when(desk, last)}"
        return Objection("step", key, problem, "correct one of the two times")
    return None


def _fail(desk: Desk, unit: _Unit, event: Failed) -> Objection | None:
    """Take a failure: a film keeps its end and is made good by steps of its own, any other step is to be done again."""
    if event.step not in unit.ended:
        return _objection(
            desk, unit, event, "is not recorded as finished", "record first that it was finished, or that it was stopped"
        )
    if event.happened_at < unit.ended[event.step]:
        return _objection(desk, unit, event, f"ended only at {_when(desk, unit.ended[event.step])}", "correct the time")
    if unit.running is not None:
        return _objection(
            desk, unit, event, f"is under {unit.running[0]}, which is under way", f"stop or finish {unit.running[0]} first"
        )
    if Step.DISPATCH.value in unit.ended:
        return _objection(desk, unit, event, "belongs to a unit that has been handed back", "enter it as a unit of a new order")
    return None


def _objection(desk: Desk, unit: _Unit, event: OfStep, problem: str, cure: str) -> Objection:
    return Objection("step", f"{unit.unit_id}/{event.step}", problem, cure)


def _when(desk: Desk, moment: datetime) -> str:
    return f"{desk.shop.local(moment):%a %d %b %H:%M}"


def wrong_correction(desk: Desk, event: Correction) -> Objection | None:
    """Why an event cannot be corrected."""
    ids = {row.id for row in desk.stands}
    if event.corrects in ids:
        return None
    later = next((row.id for row in desk.events if isinstance(row, Correction) and row.corrects == event.corrects), None)
    if later is not None:
        return Objection("event", event.corrects, f"has been corrected already, by {later}", f"correct {later}")
    return Objection("event", event.corrects, "there is no such event", "see --list for the ids")
