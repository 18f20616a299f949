"""What cannot be true of the events that stand: steps out of order, twice, or ended before they began."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.record.desk import Desk
from scheduler.record.events import Failed, Finished, OfStep, Started, Stopped
from scheduler.record.report import Objection
from scheduler.record.rework_now import Rounds, begun
from scheduler.shop.day_words import moment_text
from scheduler.shop.methods import FILM_STEPS, Step

_STEPS = (Started, Finished, Stopped, Failed)


@dataclass
class _Unit:
    """Where a unit is while its events are followed."""

    desk: Desk
    unit_id: str
    rounds: Rounds
    ended: dict[str, datetime]
    running: tuple[str, datetime] | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """Steps that it needs by what is known so far."""
        return tuple(need.name for need in self.rounds.needs(self.unit_id))


def clashes(desk: Desk, unit_id: str) -> Iterator[Objection]:
    """Follow the steps of a unit through the events and yield what cannot be."""
    ended = {row.step: row.ended_at for row in desk.shop.done if row.unit_id == unit_id}
    unit = _Unit(desk, unit_id, begun(desk.shop), ended)
    for event in desk.stands:
        if isinstance(event, _STEPS) and event.unit_id == unit_id:
            wrong = _follow(unit, event)
            if wrong is not None:
                yield wrong


def _follow(unit: _Unit, event: Started | Finished | Stopped | Failed) -> Objection | None:
    """Take one event; return why it cannot be."""
    match event:
        case Started():
            unit.rounds.take_extra(event)
            wrong = _cannot_begin(unit, event.step, event.happened_at)
            if wrong is None:
                unit.running = event.step, event.happened_at
                unit.rounds.follow(event)
            return wrong
        case Finished():
            return _finish(unit, event)
        case Stopped():
            return _stop(unit, event)
    return _fail(unit, event)


def _finish(unit: _Unit, event: Finished) -> Objection | None:
    begun_at = unit.running[1] if unit.running is not None and unit.running[0] == event.step else None
    start = event.started_at or begun_at or event.happened_at
    if event.happened_at <= start:
        problem = f"is finished at {_when(unit, event.happened_at)}, but was started at {_when(unit, start)}"
        return _objection(unit, event, problem, "correct one of the two times")
    unit.rounds.take_extra(event)
    wrong = _cannot_begin(unit, event.step, start) if begun_at is None else None
    if wrong is None:
        unit.running, unit.ended[event.step] = None, event.happened_at
        unit.rounds.follow(event)
    return wrong


def _stop(unit: _Unit, event: Stopped) -> Objection | None:
    if unit.running is None or unit.running[0] != event.step:
        return _objection(unit, event, "is not under way", "record that it was started first")
    wrong = _cannot_be_part(unit, event)
    if wrong is None:
        unit.running = None
        unit.rounds.follow(event)
        if event.is_part:
            unit.ended[event.step] = event.happened_at
    return wrong


def _cannot_be_part(unit: _Unit, event: Stopped) -> Objection | None:
    """Why what is said to be done of a stopped step cannot be."""
    if event.done_pct is None and event.ml is None:
        return None
    need = next((n for n in unit.rounds.needs(event.unit_id) if n.name == event.step), None)
    if need is not None and event.ml is not None and need.step not in FILM_STEPS:
        return _objection(unit, event, "sprays nothing, so no millilitres say how far it is", "say it with --done")
    if event.done_share >= 1.0:
        said = f"{event.ml:g} mL are all that was planned for it" if event.done_pct is None else "is done as a whole"
        return _objection(unit, event, said, "record that it was finished, or say with --done how much of it is done")
    if need is not None and event.is_part and not need.can_be_divided:
        problem = "has no rate over its area, so no share of it can be done"
        return _objection(unit, event, problem, "leave --done out: it is planned again as a whole")
    return None


def _cannot_begin(unit: _Unit, step: str, start: datetime) -> Objection | None:
    def no(problem: str, cure: str) -> Objection:
        return Objection("step", f"{unit.unit_id}/{step}", problem, cure)

    names = unit.names
    if step not in names:
        return no("the unit does not need it", f"use one of {', '.join(names)}")
    if step in unit.ended:
        return no(*_over(unit, step))
    if unit.running is not None:
        return no(*_meanwhile(unit, *unit.running))
    before = names[: names.index(step)]
    gaps = [name for name in before if name not in unit.ended]
    if gaps:
        problem = f"{', '.join(gaps)} of the unit {'is' if len(gaps) == 1 else 'are'} not recorded as finished"
        return no(problem, "record that first, one by one or with as-planned")
    last = max((unit.ended[name] for name in before), default=None)
    if last is not None and start < last:
        problem = f"begins at {_when(unit, start)}, before {before[-1]} ended at {_when(unit, last)}"
        return no(problem, "correct one of the two times")
    return None


def _meanwhile(unit: _Unit, step: str, since: datetime) -> tuple[str, str]:
    """What is wrong with a step that begins while another is under way, which may have ended later, and the cure."""
    ends = (e for e in unit.desk.stands if isinstance(e, Finished | Stopped) and (e.unit_id, e.step) == (unit.unit_id, step))
    until = next((end.happened_at for end in ends if end.happened_at > since), None)
    if until is not None:
        return f"{step} of the unit was under way from {_when(unit, since)} to {_when(unit, until)}", "correct one of the times"
    return f"{step} of the unit is under way since {_when(unit, since)}", f"record first that {step} was finished or stopped"


def _over(unit: _Unit, step: str) -> tuple[str, str]:
    """What is wrong with a step that has ended already, and the cure."""
    when = _when(unit, unit.ended[step])
    rest = next((need.name for need in unit.rounds.needs(unit.unit_id) if need.rest_of == step), None)
    if rest is not None:
        return f"was stopped at {when} with some of it done", f"what is left of it is {rest}; report that"
    return f"has been finished already, at {when}", "correct that event, or record that the step failed"


def _fail(unit: _Unit, event: Failed) -> Objection | None:
    """Take a failure: a film is made good by steps of its own, any other step is done again."""
    wrong = _cannot_fail(unit, event)
    if wrong is None:
        unit.rounds.follow(event)
        unit.ended = {name: at for name, at in unit.ended.items() if name in unit.rounds.done.get(unit.unit_id, ())}
    return wrong


def _cannot_fail(unit: _Unit, event: Failed) -> Objection | None:
    if event.step not in unit.ended:
        return _objection(unit, event, "is not recorded as finished", "record that it was finished first, or that it was stopped")
    if event.happened_at < unit.ended[event.step]:
        return _objection(unit, event, f"ended only at {_when(unit, unit.ended[event.step])}", "correct the time")
    needs = {need.name: need for need in unit.rounds.needs(unit.unit_id)}
    last = unit.running[0] if unit.running is not None else max(unit.ended, key=lambda name: unit.ended[name])
    on_the_way = last in needs and needs[last].step is Step.MOVE_OUT
    if unit.running is not None and not on_the_way:
        problem = f"cannot be judged while {unit.running[0]} is under way"
        return _objection(unit, event, problem, f"stop or finish {unit.running[0]} first")
    if on_the_way and needs[event.step].step is Step.INSPECT:
        return _objection(unit, event, "is over, the unit leaves its bay", "report the film that failed: it comes back for that")
    left = [n for n in needs if n in unit.ended and needs[n].step in {Step.MOVE_OUT, Step.DISPATCH}]
    if needs[event.step].step in FILM_STEPS and not on_the_way and any(unit.ended[n] > unit.ended[event.step] for n in left):
        return _objection(
            unit, event, "belongs to a unit that has left its bay", "enter it as a unit of a new order, with blisters"
        )
    return None


def _objection(unit: _Unit, event: OfStep, problem: str, cure: str) -> Objection:
    return Objection("step", f"{unit.unit_id}/{event.step}", problem, cure)


def _when(unit: _Unit, moment: datetime) -> str:
    return moment_text(unit.desk.shop.local(moment))
