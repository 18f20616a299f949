"""How a failure is made good: a film by a repair or another coat, what can still be done again in place by doing it again."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from scheduler.activities.steps import NeededStep
from scheduler.record.events import Failed
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.methods import FILM_STEPS, Step
from scheduler.shop.need import Need
from scheduler.shop.resources import is_stay_of
from scheduler.shop.rework_needs import stay_at
from scheduler.shop.shop import Shop

_LATER: Final = frozenset({Step.INSPECT, Step.MOVE_OUT, Step.DISPATCH})


@dataclass(frozen=True)
class Standing:
    """How a unit stands when something on it fails.

    Attributes
    ----------
    needs : tuple of Need
        With the rework so far.
    done : tuple of str
        Steps in the order in which they ended, what failed among them.
    running : str or None
        Step that is under way.
    bay_id : str
        The last bay that was named; empty if none was.
    """

    shop: Shop
    needs: tuple[Need, ...]
    done: tuple[str, ...]
    running: str | None
    bay_id: str

    @property
    def last(self) -> Need:
        """The step that is under way, or the last one done."""
        by_name = {need.name: need for need in self.needs}
        return by_name.get(self.running or "", by_name[self.done[-1]])

    def before(self, name: str) -> list[str]:
        """Steps that were done before one of them was."""
        return list(self.done[: self.done.index(name)])


def made_good(at: Standing, event: Failed) -> tuple[list[str], Rework | None]:
    """Steps that still count as done, and the rework that is needed besides, if any."""
    need = next((n for n in at.needs if n.name == event.step), None)
    if need is None:
        return list(at.done), None
    last = at.last
    if last.step is Step.MOVE_OUT and need.step not in _LATER:
        return list(at.done), _on_the_way(at, event, need, last.name)
    if need.step in FILM_STEPS:
        return _in_a_bay(at, event) if last.step is not Step.DISPATCH else (list(at.done), None)
    if _stage(need) == _stage(last) or need.step in _LATER:
        return at.before(event.step), None
    return list(at.done), _prepared(event, need, at.done[-1])


def _on_the_way(at: Standing, event: Failed, need: Need, out: str) -> Rework:
    """What fails as the unit is moved out, or after it: a film is made good in its bay again, the surface in the next one."""
    if need.step not in FILM_STEPS:
        return _prepared(event, need, goes_on_after(at.needs, out))
    own = _own_stage(at.needs, event.step)
    return _film(at, at.done, event, out, None if is_stay_of(own, stay_at(at.needs, out)) else own)


def _prepared(event: Failed, need: Need, after: str) -> Rework:
    kind = ReworkKind.WIPE if need.step in {Step.WASH, Step.WIPE} else ReworkKind.ABRADE
    return Rework(unit_id=event.unit_id, after=after, kind=kind, reason=event.cause)


def _in_a_bay(at: Standing, event: Failed) -> tuple[list[str], Rework]:
    """Make a film good where the unit stands, if that bay is for it, else in a bay of its own stage.

    Nobody works on the unit before: what is left of the stay is done after it comes back. Where nothing is left of it, the unit
    is moved out as it is anyway.
    """
    order = [need.name for need in at.needs]
    own = _own_stage(at.needs, event.step)
    if _may_be_done_here(at, own):
        after = [need.name for need in at.needs if need.name in at.done and need.step not in _LATER][-1]
        done = [name for name in at.done if order.index(name) <= order.index(after)]
        return done, _film(at, done, event, after)
    ahead = at.needs[order.index(at.done[-1]) + 1]
    return list(at.done), _film(at, at.done, event, ahead.name if ahead.step is Step.MOVE_OUT else at.done[-1], own)


def _may_be_done_here(at: Standing, stage: str) -> bool:
    """Whether the bay in which a unit stands takes a stage; where nobody said which it is, every bay that it may be."""
    stay, named = stay_at(at.needs, at.done[-1]), at.shop.bay_by_id.get(at.bay_id)
    bays = [named] if named is not None else [bay for bay in at.shop.bays if bay.takes(stay)]
    return is_stay_of(stage, stay) or all(bay.takes(stage) for bay in bays)


def _film(at: Standing, done: Iterable[str], event: Failed, after: str, stage: str | None = None) -> Rework:
    there = set(done)
    films = [need.name for need in at.needs if need.step in FILM_STEPS and need.name in there]
    whole = event.share_pct >= 100.0 and event.step == films[-1]
    return Rework(
        unit_id=event.unit_id,
        after=after,
        kind=ReworkKind.REDO if whole else ReworkKind.REPAIR,
        film=event.step,
        share_pct=event.share_pct,
        reason=event.cause,
        stage=stage,
    )


def goes_on_after(steps: Iterable[Need | NeededStep], last: str) -> str:
    """Step after which a unit can be worked on again: the last one that is done or under way, or the move into the next bay."""
    names = list(steps)
    at = next(i for i, step in enumerate(names) if step.name == last)
    on_the_way = names[at].step is Step.MOVE_OUT and names[at + 1 : at + 2] and names[at + 1].step is Step.MOVE_IN
    return names[at + 1].name if on_the_way else last


def _own_stage(needs: Iterable[Need], step: str) -> str:
    """Stage in which a step is done, whichever stay it is: coat of coat-r2."""
    return re.sub(r"(-r[0-9]+)+$", "", stay_at(needs, step))


def _stage(need: Need) -> str:
    """Stage of a step; a move says it in its name."""
    return need.name.partition("-")[2] if need.step in {Step.MOVE_IN, Step.MOVE_OUT} else need.method.stage if need.method else ""
