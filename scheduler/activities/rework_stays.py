"""Where a unit is made good: in the bay in which it is, or in a stay of its own to which it is brought back."""

from collections.abc import Iterator
from dataclasses import replace

from scheduler.activities.steps import NeededStep, Route
from scheduler.shop.fixed import Rework
from scheduler.shop.methods import MOVE_STEPS, Step
from scheduler.shop.resources import is_stay_of

Steps = tuple[NeededStep, ...]


def stay_of_rework(route: Route, row: Rework, number: int, last: NeededStep) -> str:
    """Stay of the new steps after ``last``: that in which the unit is, or, where it leaves it, a further one."""
    stage = _stage(route, row, last)
    return last.stage if stage == last.stage and last.step is not Step.MOVE_OUT else f"{stage}-r{number}"


def _stage(route: Route, row: Rework, last: NeededStep) -> str:
    """Stage to which the unit has to go back, else that in which it is."""
    elsewhere = row.stage is not None and not is_stay_of(row.stage, last.stage)
    return row.stage if row.stage and elsewhere and any(s.stage == row.stage for s in route.steps) else last.stage


def in_stays(route: Route, row: Rework, number: int, at: int, new: list[NeededStep]) -> Steps:
    """Steps of a route with new ones at a place, and the moves that these take."""
    before, last, later = route.steps[:at], route.steps[at - 1], route.steps[at:]
    stage = _stage(route, row, last)
    if stage == last.stage and last.step is not Step.MOVE_OUT:
        return (*before, *new, *later)
    there = _brought_back(route, row, number, stage, new)
    if last.step is Step.MOVE_OUT:
        return (*before, *there, *later)
    out, back = _moves(route, row, number, last.stage)
    return (*before, *out, *there, *back, *_resumed(later, last.stage, number))


def _brought_back(route: Route, row: Rework, number: int, stage: str, new: list[NeededStep]) -> Steps:
    """The new steps in a stay of their own: moved in, looked at again if that was done in the stage, and moved out."""
    stay = {step.step: step for step in route.steps if step.stage == stage}
    ends = [
        replace(step, name=f"{step.name}-r{number}", stage=f"{stage}-r{number}", reason=row.reason)
        for step in (stay.get(kind) for kind in (Step.MOVE_IN, Step.INSPECT, Step.MOVE_OUT))
        if step is not None
    ]
    first = sum(step.step is Step.MOVE_IN for step in ends)
    return (*ends[:first], *new, *ends[first:])


def _moves(route: Route, row: Rework, number: int, stay: str) -> tuple[Steps, Steps]:
    """The move out of a stay that is left early, and the one into a further stay of its kind."""
    ends = [replace(step, reason=row.reason) for step in route.steps if step.stage == stay and step.step in MOVE_STEPS]
    back = (replace(s, name=f"{s.name}-r{number}", stage=f"{stay}-r{number}") for s in ends if s.step is Step.MOVE_IN)
    return tuple(step for step in ends if step.step is Step.MOVE_OUT), tuple(back)


def _resumed(later: Steps, stay: str, number: int) -> Iterator[NeededStep]:
    """Yield what comes later; what was left of the stay is done in the further one, which has a move out of its own."""
    for step in later:
        name = f"{step.name}-r{number}" if step.step is Step.MOVE_OUT else step.name
        yield replace(step, stage=f"{stay}-r{number}", name=name) if step.stage == stay else step
