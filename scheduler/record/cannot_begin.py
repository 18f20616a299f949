"""Why a step cannot have begun: it is not needed, it is over, another is under way, or one before it is not finished."""

from datetime import datetime

from scheduler.record.events import Finished, Stopped
from scheduler.record.report import Objection
from scheduler.record.unit_followed import Followed


def cannot_begin(unit: Followed, step: str, start: datetime) -> Objection | None:
    """Why a step cannot have begun at a moment: not needed, over, another one under way, or one before it not finished."""
    names = list(unit.needs)
    if step not in names:
        return unit.objection(step, "the unit does not need it", f"use one of {', '.join(names)}")
    if step in unit.ended:
        return unit.objection(step, *_over(unit, step))
    if unit.running is not None:
        return unit.objection(step, *_meanwhile(unit, *unit.running))
    before = names[: names.index(step)]
    gaps = [name for name in before if name not in unit.ended]
    if gaps:
        problem = f"{', '.join(gaps)} of the unit {'is' if len(gaps) == 1 else 'are'} not recorded as finished"
        return unit.objection(step, problem, "record that first, one by one or with as-planned")
    last = max((unit.ended[name] for name in before), default=None)
    if last is not None and start < last:
        problem = f"begins at {unit.when(start)}, before {before[-1]} ended at {unit.when(last)}"
        return unit.objection(step, problem, "correct one of the two times")
    return None


def _meanwhile(unit: Followed, step: str, since: datetime) -> tuple[str, str]:
    """What is wrong with a step that begins while another is under way, which may have ended later, and the cure."""
    ends = (e for e in unit.told if isinstance(e, Finished | Stopped) and e.step == step)
    until = next((end.happened_at for end in ends if end.happened_at > since), None)
    if until is not None:
        return f"{step} of the unit was under way from {unit.when(since)} to {unit.when(until)}", "correct one of the times"
    return f"{step} of the unit is under way since {unit.when(since)}", f"record first that {step} was finished or stopped"


def _over(unit: Followed, step: str) -> tuple[str, str]:
    """What is wrong with a step that has ended already, and the cure."""
    when = unit.when(unit.ended[step])
    rest = next((need.name for need in unit.needs.values() if need.rest_of == step), None)
    if rest is not None:
        return f"was stopped at {when} with some of it done", f"what is left of it is {rest}; report that"
    return f"has been finished already, at {when}", "correct that event, or record that the step failed"
