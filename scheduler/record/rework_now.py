"""What has to be made good, and what is done no more, from the failures that were reported."""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from scheduler.activities.steps import NeededStep
from scheduler.record.events import Doing, Failed, Finished, OfStep, Plain, Started, Stopped
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.methods import FILM_STEPS, Step
from scheduler.shop.need import Need
from scheduler.shop.needs import needs_at_first
from scheduler.shop.resources import is_stay_of
from scheduler.shop.rework_needs import stay_at, with_rework
from scheduler.shop.rework_numbers import next_number, numbered
from scheduler.shop.shop import Shop

_AGAIN: Final = re.compile(r"^(wipe|abrade)-r(\d+)$")
_LATER: Final = frozenset({Step.INSPECT, Step.MOVE_OUT, Step.DISPATCH})


@dataclass
class Rounds:
    """Units while their events are followed: what is done of each, and the rework that they need.

    Attributes
    ----------
    done : dict of str to list of str
        Steps by unit in the order in which they ended, without those that are to be done again.
    running : dict of str to str
        Steps that are under way by unit.
    bays : dict of str to str
        The last bay that was named by unit.
    """

    shop: Shop
    done: dict[str, list[str]] = field(default_factory=dict)
    rows: dict[str, list[Rework]] = field(default_factory=dict)
    running: dict[str, str] = field(default_factory=dict)
    bays: dict[str, str] = field(default_factory=dict)
    _needs: dict[str, tuple[Need, ...]] = field(default_factory=dict)
    _at_first: dict[str, tuple[Need, ...]] = field(default_factory=dict)

    def needs(self, unit_id: str) -> tuple[Need, ...]:
        """Steps of a unit with the rework so far."""
        if unit_id not in self._needs:
            if unit_id not in self._at_first:
                self._at_first[unit_id] = needs_at_first(self.shop, unit_id)
            rows = numbered(self.rows.get(unit_id, ()))
            self._needs[unit_id] = with_rework(self.shop, rows, self._at_first[unit_id])
        return self._needs[unit_id]

    def alone(self, unit_id: str) -> "Rounds":
        """One of the units by itself, with nothing under way."""
        one = Rounds(self.shop, _at_first=self._at_first)
        if unit_id in self.done:
            one.done[unit_id] = list(self.done[unit_id])
        if unit_id in self.rows:
            one.rows[unit_id] = list(self.rows[unit_id])
        if unit_id in self.bays:
            one.bays[unit_id] = self.bays[unit_id]
        return one

    def follow(self, event: Plain) -> None:
        """Take an event of a step."""
        if not isinstance(event, OfStep):
            return
        if isinstance(event, Started | Finished):
            self.take_extra(event.unit_id, event.step)
        if all(need.name != event.step for need in self.needs(event.unit_id)):
            return  # of a repair whose reason was taken back
        if isinstance(event, Doing) and event.bay_id is not None:
            self.bays[event.unit_id] = event.bay_id
        if isinstance(event, Started):
            self.running[event.unit_id] = event.step
        elif isinstance(event, Finished | Stopped):
            self.running.pop(event.unit_id, None)
        if isinstance(event, Finished):
            done = self.done.setdefault(event.unit_id, [])
            self.done[event.unit_id] = [*(name for name in done if name != event.step), event.step]
        elif isinstance(event, Stopped) and event.is_part:
            self._part(event)
        elif isinstance(event, Failed) and event.step in self.done.get(event.unit_id, []):
            self._fail(event)

    def take_extra(self, unit_id: str, step: str) -> None:
        """Take a step that the unit does not have: wiping or abrading again that nothing else explains is what it needs."""
        found, rows = _AGAIN.match(step), self.rows.get(unit_id, [])
        if found is not None and int(found[2]) == next_number(rows) and self.done.get(unit_id):
            kind = ReworkKind(found[1])
            self._add(Rework(unit_id=unit_id, after=self.done[unit_id][-1], kind=kind, reason="prepared again"))

    def _add(self, row: Rework) -> None:
        rows = self.rows.setdefault(row.unit_id, [])
        self._needs.pop(row.unit_id, None)
        alike = next((i for i, old in enumerate(rows) if (old.after, old.kind) == (row.after, row.kind)), None)
        if alike is None:
            rows.append(row.model_copy(update={"number": next_number(rows)}))
        else:
            one, two = rows[alike].share_pct, row.share_pct
            # what is left of what had been left out of the rest before is left too; shares of one film that failed add up
            share = one + (100.0 - one) * two / 100.0 if row.kind is ReworkKind.REST else one + two
            rows[alike] = rows[alike].model_copy(update={"share_pct": min(100.0, share)})

    def _part(self, event: Stopped) -> None:
        """Some of a step is done: the rest is a step of its own, rounded up."""
        done = self.done.setdefault(event.unit_id, [])
        self.done[event.unit_id] = [*(name for name in done if name != event.step), event.step]
        left_pct = min(99.99, math.ceil((1.0 - event.done_share) * 1e4 - 1e-6) / 100.0)
        reason = f"stopped, {event.why}"
        self._add(Rework(unit_id=event.unit_id, after=event.step, kind=ReworkKind.REST, share_pct=left_pct, reason=reason))

    def _fail(self, event: Failed) -> None:
        """Make good: a film by repair or by another coat, what can still be done again in place by doing it again."""
        needs = {need.name: need for need in self.needs(event.unit_id)}
        done, need = self.done[event.unit_id], needs.get(event.step)
        if need is None:
            return
        last = needs.get(self.running.get(event.unit_id, done[-1]), needs[done[-1]])
        if last.step is Step.MOVE_OUT and need.step not in _LATER:
            self._fail_on_the_way(event, need, last.name)
        elif need.step in FILM_STEPS:
            if last.step is not Step.DISPATCH:
                self._fail_in_a_bay(event, list(needs.values()))
        elif _stage(need) == _stage(last) or need.step in _LATER:
            self.done[event.unit_id] = done[: done.index(event.step)]
        else:
            self._prepare(event, need, done[-1])

    def _fail_on_the_way(self, event: Failed, need: Need, out: str) -> None:
        """Make good what failed as the unit is moved out, or after it: a film in its bay again, the surface in the next one."""
        if need.step in FILM_STEPS:
            needs = self.needs(event.unit_id)
            own = _own_stage(needs, event.step)
            self._film(event, out, None if is_stay_of(own, stay_at(needs, out)) else own)
        else:
            self._prepare(event, need, goes_on_after(self.needs(event.unit_id), out))

    def _prepare(self, event: Failed, need: Need, after: str) -> None:
        kind = ReworkKind.WIPE if need.step in {Step.WASH, Step.WIPE} else ReworkKind.ABRADE
        self._add(Rework(unit_id=event.unit_id, after=after, kind=kind, reason=event.cause))

    def _fail_in_a_bay(self, event: Failed, needs: list[Need]) -> None:
        """Make a film good where the unit stands, if that bay is for it, else in a bay of its own stage.

        Nobody works on the unit before: what is left of the stay is done after it comes back. Where nothing is left of it, the
        unit is moved out as it is anyway.
        """
        done, order = self.done[event.unit_id], [need.name for need in needs]
        stay, own = stay_at(needs, done[-1]), _own_stage(needs, event.step)
        if self._may_be_done_here(event.unit_id, own, stay):
            after = [n.name for n in needs if n.name in done and n.step not in _LATER][-1]
            self.done[event.unit_id] = [name for name in done if order.index(name) <= order.index(after)]
            self._film(event, after)
            return
        ahead = needs[order.index(done[-1]) + 1]
        self._film(event, ahead.name if ahead.step is Step.MOVE_OUT else done[-1], own)

    def _may_be_done_here(self, unit_id: str, stage: str, stay: str) -> bool:
        """Whether the bay in which a unit stands takes a stage; where nobody said which it is, every bay that it may be."""
        named = self.shop.bay_by_id.get(self.bays.get(unit_id, ""))
        bays = [named] if named is not None else [bay for bay in self.shop.bays if bay.takes(stay)]
        return is_stay_of(stage, stay) or all(bay.takes(stage) for bay in bays)

    def _film(self, event: Failed, after: str, stage: str | None = None) -> None:
        films = [n.name for n in self.needs(event.unit_id) if n.step in FILM_STEPS and n.name in self.done[event.unit_id]]
        whole = event.share_pct >= 100.0 and event.step == films[-1]
        self._add(
            Rework(
                unit_id=event.unit_id,
                after=after,
                kind=ReworkKind.REDO if whole else ReworkKind.REPAIR,
                film=event.step,
                share_pct=event.share_pct,
                reason=event.cause,
                stage=stage,
            )
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


def begun(shop: Shop) -> Rounds:
    """What the folder says has happened."""
    rounds = Rounds(shop)
    for row in sorted(shop.done, key=lambda row: row.ended_at):
        rounds.done.setdefault(row.unit_id, []).append(row.step)
        if row.bay_id is not None:
            rounds.bays[row.unit_id] = row.bay_id
    rounds.rows |= {unit_id: list(rows) for unit_id, rows in shop.rework_of.items() if rows}
    return rounds


def rounds_of(shop: Shop, events: Iterable[Plain], now: datetime) -> Rounds:
    """Follow the events up to a moment, from what the folder says has happened on."""
    rounds = begun(shop)
    for event in events:
        if event.happened_at <= now:
            rounds.follow(event)
    return rounds
