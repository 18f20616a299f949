"""Reads the options of a report as they were typed, and says which one is wrong."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from scheduler.record import events as e
from scheduler.record.desk import Desk
from scheduler.record.report import Objection, ObjectionError
from scheduler.record.typed_moment import typed_moment
from scheduler.shop.faults import choose
from scheduler.shop.rework_numbers import next_number

Fields = dict[str, Any]
Made = tuple[type[e.Plain], Fields]
"""What a report becomes: the model of its event and what it says."""


@dataclass(frozen=True)
class Reader:
    """Reads what is said, and says where it is wrong."""

    desk: Desk
    said: Mapping[str, str]

    def at(self, name: str = "at", *, ahead: bool = False) -> datetime:
        """Moment of an option, now if it is not said."""
        text = self.said.get(name)
        return self.desk.now if text is None else self.moment(name, text, ahead=ahead)

    def moment(self, name: str, text: str, *, ahead: bool = False) -> datetime:
        """Moment in a text."""
        try:
            return typed_moment(text, self.desk.now, self.desk.shop.site.tz, ahead=ahead)
        except ValueError as error:
            problem, _, cure = str(error).partition("; ")
            raise ObjectionError(Objection(f"--{name}", text, problem, cure or "correct it")) from error

    def only(self, *names: str) -> Fields:
        """Those of the options that are said, as text."""
        return {name: self.said[name] for name in names if name in self.said}

    def words(self, name: str) -> list[str]:
        """Words of an option."""
        return self.said.get(name, "").replace(",", " ").split()

    def choice(self, name: str, known: Mapping[str, Any], otherwise: str) -> Any:  # noqa: ANN401
        """What a word of a list stands for."""
        text = self.said.get(name, otherwise)
        if text not in known:
            raise ObjectionError(
                Objection(f"--{name}", text, "not a word that is known here", choose(text, known, "leave it out"))
            )
        return known[text]

    def unit(self, text: str) -> str:
        """Id of a unit.

        Raises
        ------
        ObjectionError
            If there is none.
        """
        return _known("unit", text, self.desk.shop.unit_by_id)

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
            problem, cure = "no step is named", f"write UNIT/STEP, such as {unit_id}/{self.desk.steps_of(unit_id)[0]}"
            raise ObjectionError(Objection("what it is about", text, problem, cure))
        return unit_id, _known(f"step of {unit_id}", step_text, (*self.desk.steps_of(unit_id), *self._again(unit_id)))

    def _again(self, unit_id: str) -> tuple[str, ...]:
        """Steps that a unit may get by their mere report: prepared again."""
        number = next_number(self.desk.unit_now(unit_id).rework)
        return tuple(f"{step}-r{number}" for step in ("wipe", "abrade"))

    def person(self, text: str) -> str:
        """Id of a person, who may be called by name.

        Raises
        ------
        ObjectionError
            If there is nobody, or more than one.
        """
        named = [p.person_id for p in self.desk.shop.crew if text.casefold() in {p.name.casefold(), p.name.casefold().split()[0]}]
        return named[0] if len(named) == 1 else _known("person", text, self.desk.shop.person_by_id)

    def lot(self, text: str) -> str:
        """Id of a lot.

        Raises
        ------
        ObjectionError
            If there is none.
        """
        came = (event.lot_id for event in self.desk.log.stands.get("delivered", ()) if isinstance(event, e.Delivered))
        return _known("lot", text, [*(lot.lot_id for lot in self.desk.shop.lots), *came])

    def equipment(self, text: str) -> str:
        """Id of a row of equipment.

        Raises
        ------
        ObjectionError
            If there is none.
        """
        return _known("piece of equipment", text, [row.equipment_id for row in self.desk.shop.equipment])


def _known(what: str, text: str, known: Iterable[str]) -> str:
    names = list(known)
    if text in names:
        return text
    raise ObjectionError(
        Objection(what, text or None, f"there is no such {what}", choose(text, names, f"name a {what} of the shop"))
    )
