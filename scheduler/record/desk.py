"""What is known when a report comes in: the shop, the latest schedule, what has been recorded, and the clock."""

from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property

from scheduler.record.events import AnyEvent, Plain
from scheduler.record.foreign import known_here
from scheduler.record.history import Works
from scheduler.record.log import Log, log_of, of_unit
from scheduler.record.progress import Progress, Run, progress_of
from scheduler.record.shop_now import shop_told
from scheduler.record.standing import standing
from scheduler.record.unit_now import Outset, UnitNow, outset_of, unit_now
from scheduler.schedule.schedule import Schedule
from scheduler.shop.need import Need
from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class Desk:
    """Shop, schedule and events at a moment.

    What is asked of one unit is worked out from its own events, and kept while reports of others come in.
    """

    shop: Shop
    schedule: Schedule
    events: tuple[AnyEvent, ...]
    now: datetime

    def with_event(self, event: AnyEvent) -> "Desk":
        """The desk once an event has been recorded."""
        log = self.log.with_event(event)
        after = replace(self, events=log.events)
        vars(after).update(log=log, outset=self.outset, _units=self._units)
        return after

    @cached_property
    def log(self) -> Log:
        """Events by what they are about."""
        return log_of(self.events)

    @cached_property
    def outset(self) -> Outset:
        """What folder and schedule say, by unit and step."""
        return outset_of(self.shop, self.schedule)

    @cached_property
    def _units(self) -> dict[str, tuple[tuple[Plain, ...], UnitNow]]:
        """Units that were asked for, beside the events that they were worked out from."""
        return {}

    def steps_told(self, unit_id: str) -> tuple[Plain, ...]:
        """Events of a unit's steps that stand, in the order of time."""
        return self.log.stands.get(of_unit(unit_id), ())

    def unit_now(self, unit_id: str) -> UnitNow:
        """A unit as it stands."""
        events = self.steps_told(unit_id)
        known = self._units.get(unit_id)
        if known is None or known[0] is not events:
            known = events, unit_now(self.outset, unit_id, events, self.now)
            self._units[unit_id] = known
        return known[1]

    @cached_property
    def stands(self) -> tuple[Plain, ...]:
        """Events with all corrections followed."""
        return standing(self.events)

    @cached_property
    def progress(self) -> Progress:
        """Steps up to now."""
        return progress_of(known_here(self.shop, self.events), self.now)

    @cached_property
    def shop_now(self) -> Shop:
        """The shop as it was reported."""
        return shop_told(self.shop, self.schedule, self.events, self.now)

    @property
    def works(self) -> Works:
        """Work of the schedule by unit and step."""
        return self.outset.works

    def needs_of(self, unit_id: str) -> tuple[Need, ...]:
        """What a unit needs in technical order, repairs included."""
        return self.unit_now(unit_id).needs

    def needs_with(self, unit_id: str, step: str) -> tuple[Need, ...]:
        """What a unit needs once a step of it is reported, which may be that it is prepared again."""
        return self.unit_now(unit_id).needs_with(unit_id, step)

    def steps_of(self, unit_id: str) -> tuple[str, ...]:
        """Steps of a unit in technical order, repairs included."""
        return tuple(need.name for need in self.needs_of(unit_id))

    def run_of(self, unit_id: str, step: str) -> Run | None:
        """Latest run of a step."""
        return self.unit_now(unit_id).progress.runs.get((unit_id, step))
