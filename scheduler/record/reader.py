"""Reads the options of a report as they were typed, and says which one is wrong."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from scheduler.record import events as e
from scheduler.record.desk import Desk
from scheduler.record.report import Objection, ObjectionError
from scheduler.record.typed_moment import typed_moment
from scheduler.shop.faults import choose

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
