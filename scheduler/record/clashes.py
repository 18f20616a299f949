"""What cannot be true of the events that stand: steps out of order, twice, or ended before they began."""

from collections.abc import Iterator, Sequence
from typing import Final

from scheduler.record.cannot_begin import cannot_begin
from scheduler.record.cannot_fail import cannot_be_part, cannot_fail
from scheduler.record.events import Failed, Finished, Plain, Started, Stopped
from scheduler.record.report import Objection
from scheduler.record.unit_followed import Followed
from scheduler.record.unit_now import Outset

_STEPS: Final = (Started, Finished, Stopped, Failed)


def clashes(outset: Outset, unit_id: str, told: Sequence[Plain]) -> Iterator[Objection]:
    """Follow the events of a unit's steps that stand, in the order of time, and yield what cannot be."""
    ended = {row.step: row.ended_at for row in outset.listed.get(unit_id, ())}
    unit = Followed(unit_id, told, outset.begun.alone(unit_id), ended)
    for event in told:
        if isinstance(event, _STEPS):
            wrong = _follow(unit, event)
            if wrong is not None:
                yield wrong


def _follow(unit: Followed, event: Started | Finished | Stopped | Failed) -> Objection | None:
    """Take one event; return why it cannot be."""
    match event:
        case Started():
            unit.rounds.take_extra(event.unit_id, event.step)
            wrong = cannot_begin(unit, event.step, event.happened_at)
            if wrong is None:
                unit.running = event.step, event.happened_at
                unit.rounds.follow(event)
            return wrong
        case Finished():
            return _finish(unit, event)
        case Stopped():
            return _stop(unit, event)
    return _fail(unit, event)


def _finish(unit: Followed, event: Finished) -> Objection | None:
    begun_at = unit.running[1] if unit.running is not None and unit.running[0] == event.step else None
    if event.started_at is None and begun_at is None and event.step in unit.ended:
        return cannot_begin(unit, event.step, event.happened_at)
    start = event.started_at or begun_at or event.happened_at
    if event.happened_at <= start:
        problem = f"is finished at {unit.when(event.happened_at)}, but was started at {unit.when(start)}"
        return unit.objection(event.step, problem, "correct one of the two times")
    unit.rounds.take_extra(event.unit_id, event.step)
    wrong = cannot_begin(unit, event.step, start) if begun_at is None else None
    if wrong is None:
        unit.running, unit.ended[event.step] = None, event.happened_at
        unit.rounds.follow(event)
    return wrong


def _stop(unit: Followed, event: Stopped) -> Objection | None:
    if unit.running is None or unit.running[0] != event.step:
        return unit.objection(event.step, "is not under way", "record that it was started first")
    wrong = cannot_be_part(unit, event)
    if wrong is None:
        unit.running = None
        unit.rounds.follow(event)
        if event.is_part:
            unit.ended[event.step] = event.happened_at
    return wrong


def _fail(unit: Followed, event: Failed) -> Objection | None:
    """Take a failure: a film is made good by steps of its own, any other step is done again."""
    wrong = cannot_fail(unit, event)
    if wrong is None:
        unit.rounds.follow(event)
        unit.ended = {name: at for name, at in unit.ended.items() if name in unit.rounds.done.get(unit.unit_id, ())}
    return wrong
