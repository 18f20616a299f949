"""Why a step cannot have failed, or a share of it cannot be done."""

from collections.abc import Mapping

from scheduler.record.events import Failed, Stopped
from scheduler.record.report import Objection
from scheduler.record.unit_followed import Followed
from scheduler.shop.methods import FILM_STEPS, Step
from scheduler.shop.need import Need


def cannot_fail(unit: Followed, event: Failed) -> Objection | None:
    """Why a step cannot have failed, or not so that anything could be planned of it."""
    if event.step not in unit.ended:
        return unit.objection(
            event.step, "is not recorded as finished", "record that it was finished first, or that it was stopped"
        )
    if event.happened_at < unit.ended[event.step]:
        return unit.objection(event.step, f"ended only at {unit.when(unit.ended[event.step])}", "correct the time")
    needs = unit.needs
    last = unit.running[0] if unit.running is not None else max(unit.ended, key=lambda name: unit.ended[name])
    on_the_way = last in needs and needs[last].step is Step.MOVE_OUT
    if unit.running is not None and not on_the_way:
        problem = f"cannot be judged while {unit.running[0]} is under way"
        return unit.objection(event.step, problem, f"stop or finish {unit.running[0]} first")
    if on_the_way and needs[event.step].step is Step.INSPECT:
        return unit.objection(
            event.step, "is over, the unit leaves its bay", "report the film that failed: it comes back for that"
        )
    return _has_left(unit, event, needs)


def _has_left(unit: Followed, event: Failed, needs: Mapping[str, Need]) -> Objection | None:
    """Why it is too late to judge a step: the unit was handed back, or it was looked at in a bay that it has left."""
    step = needs[event.step].step
    if step in FILM_STEPS and any(needs[name].step is Step.DISPATCH for name in unit.ended):
        problem, cure = "belongs to a unit that was handed back", "enter it as a unit of a new order, with blisters"
        return unit.objection(event.step, problem, cure)
    moved = (at for name, at in unit.ended.items() if needs[name].step is Step.MOVE_OUT)
    if step is Step.INSPECT and any(at > unit.ended[event.step] for at in moved):
        return unit.objection(event.step, "is over, the unit has left that bay", "report the film that failed")
    return None


def cannot_be_part(unit: Followed, event: Stopped) -> Objection | None:
    """Why what is said to be done of a stopped step cannot be."""
    if event.done_pct is None and event.ml is None:
        return None
    need = unit.needs.get(event.step)
    if need is not None and event.ml is not None and need.step not in FILM_STEPS:
        return unit.objection(event.step, "sprays nothing, so no millilitres say how far it is", "say it with --done")
    if event.done_share >= 1.0:
        said = f"{event.ml:g} mL are all that was planned for it" if event.done_pct is None else "is done as a whole"
        return unit.objection(event.step, said, "record that it was finished, or say with --done how much of it is done")
    if need is not None and event.is_part and not need.can_be_divided:
        problem = "has no rate over its area, so no share of it can be done"
        return unit.objection(event.step, problem, "leave --done out: it is planned again as a whole")
    return None
