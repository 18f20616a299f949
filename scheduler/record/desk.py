"""What is known when a report comes in: the shop, the latest schedule, what has been recorded, and the clock."""

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from scheduler.record.events import AnyEvent, Plain
from scheduler.record.progress import Progress, Run, progress_of
from scheduler.record.report import Objection, ObjectionError
from scheduler.record.shop_now import shop_told
from scheduler.record.standing import standing
from scheduler.schedule.schedule import Schedule, Work
from scheduler.shop.faults import choose
from scheduler.shop.needs import needs_of
from scheduler.shop.rework_numbers import next_number
from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class Desk:
    """Shop, schedule and events at a moment."""

    shop: Shop
    schedule: Schedule
    events: tuple[AnyEvent, ...]
    now: datetime

    @cached_property
    def stands(self) -> tuple[Plain, ...]:
        """Events with all corrections followed."""
        return standing(self.events)

    @cached_property
    def progress(self) -> Progress:
        """Steps up to now."""
        return progress_of(self.stands, self.now)

    @cached_property
    def shop_now(self) -> Shop:
        """The shop as it was reported."""
        return shop_told(self.shop, self.schedule, self.events, self.now)

    @cached_property
    def works(self) -> dict[tuple[str, str], Work]:
        """Work of the schedule by unit and step."""
        return {(work.unit_id, work.name): work for work in self.schedule.work}

    def steps_of(self, unit_id: str) -> tuple[str, ...]:
        """Steps of a unit in technical order, repairs included."""
        return tuple(need.name for need in needs_of(self.shop_now, unit_id))

    def run_of(self, unit_id: str, step: str) -> Run | None:
        """Latest run of a step."""
        return self.progress.runs.get((unit_id, step))

    def unit(self, text: str) -> str:
        """Id of a unit.

        Raises
        ------
        ObjectionError
            If there is none.
        """
        return _known("unit", text, self.shop_now.unit_by_id)

    def step(self, text: str) -> tuple[str, str]:
        """Unit and step of ``UNIT/STEP``.

        Raises
        ------
        ObjectionError
            If the unit or its step is not there.
        """
        unit_text, mark, step_text = text.partition("/")
        unit_id = self.unit(unit_text)
        if not mark or not step_text:
            problem, cure = "no step is named", f"write UNIT/STEP, such as {unit_id}/{self.steps_of(unit_id)[0]}"
            raise ObjectionError(Objection("what it is about", text, problem, cure))
        return unit_id, _known(f"step of {unit_id}", step_text, (*self.steps_of(unit_id), *self._again(unit_id)))

    def _again(self, unit_id: str) -> tuple[str, ...]:
        """Steps that a unit may get by their mere report: prepared again."""
        number = next_number(self.shop_now.rework_of[unit_id])
        return tuple(f"{step}-r{number}" for step in ("wipe", "abrade"))

    def person(self, text: str) -> str:
        """Id of a person, who may be called by name.

        Raises
        ------
        ObjectionError
            If there is nobody, or more than one.
        """
        named = [p.person_id for p in self.shop.crew if text.casefold() in {p.name.casefold(), p.name.casefold().split()[0]}]
        return named[0] if len(named) == 1 else _known("person", text, self.shop.person_by_id)

    def lot(self, text: str) -> str:
        """Id of a lot.

        Raises
        ------
        ObjectionError
            If there is none.
        """
        return _known("lot", text, [lot.lot_id for lot in (*self.shop_now.lots, *self.shop.lots)])

    def equipment(self, text: str) -> str:
        """Id of a row of equipment.

        Raises
        ------
        ObjectionError
            If there is none.
        """
        return _known("piece of equipment", text, [row.equipment_id for row in self.shop.equipment])


def _known(what: str, text: str, known: object) -> str:
    names = [str(name) for name in known]  # type: ignore[attr-defined]
    if text in names:
        return text
    raise ObjectionError(
        Objection(what, text or None, f"there is no such {what}", choose(text, names, f"name a {what} of the shop"))
    )
