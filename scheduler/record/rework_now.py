"""What is done of each unit and what it needs besides, from what was reported."""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from scheduler.record.events import Doing, Failed, Finished, OfStep, Plain, Started, Stopped
from scheduler.record.made_good import Standing, made_good
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.need import Need
from scheduler.shop.needs import needs_at_first
from scheduler.shop.rework_needs import with_rework
from scheduler.shop.rework_numbers import next_number, numbered
from scheduler.shop.shop import Shop

_AGAIN: Final = re.compile(r"^(wipe|abrade)-r(\d+)$")


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
            self.done[event.unit_id], row = made_good(self._standing(event.unit_id), event)
            if row is not None:
                self._add(row)

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

    def _standing(self, unit_id: str) -> Standing:
        done, needs = tuple(self.done[unit_id]), self.needs(unit_id)
        return Standing(self.shop, needs, done, self.running.get(unit_id), self.bays.get(unit_id, ""))

    def _part(self, event: Stopped) -> None:
        """Some of a step is done: the rest is a step of its own, rounded up."""
        done = self.done.setdefault(event.unit_id, [])
        self.done[event.unit_id] = [*(name for name in done if name != event.step), event.step]
        left_pct = min(99.99, math.ceil((1.0 - event.done_share) * 1e4 - 1e-6) / 100.0)
        reason = f"stopped, {event.why}"
        self._add(Rework(unit_id=event.unit_id, after=event.step, kind=ReworkKind.REST, share_pct=left_pct, reason=reason))


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
