"""A report as somebody types it: what happened, to whom or what, and what else is said; and what may be wrong with it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final


@dataclass(frozen=True, slots=True)
class Form:
    """What goes with a kind of report.

    Attributes
    ----------
    about : str
        What the report is about, as it is typed; empty for nothing.
    needs, takes : tuple of str
        What has to be said, and what may be said.
    says : str
        One line for the help.
    """

    about: str
    needs: tuple[str, ...]
    takes: tuple[str, ...]
    says: str


FORMS: Final[Mapping[str, Form]] = {
    "started": Form("UNIT/STEP", (), ("at", "bay", "people", "tools"), "a step was begun, or gone on with after a stop"),
    "finished": Form("UNIT/STEP", (), ("at", "from", "bay", "people", "tools"), "a step was finished"),
    "stopped": Form(
        "UNIT/STEP", ("why",), ("at", "done", "ml"), "a step was broken off; all of it is still to do but what --done, --ml say"
    ),
    "failed": Form("UNIT/STEP", ("cause",), ("at", "share"), "a finished step turned out bad; a share of a film is repaired"),
    "loaded": Form("UNIT/STEP", (), ("at", "warmer", "lot", "cartridges"), "cartridges for a step were put into a warmer"),
    "used": Form("CARTRIDGE", ("ml",), ("at", "for", "left"), "material was taken from a cartridge"),
    "reading": Form("UNIT or BAY", (), ("at", "air", "steel", "dew", "rh", "dft"), "something was measured"),
    "arrived": Form("UNIT", (), ("at",), "a unit is there, or word came when it will be"),
    "away": Form("PERSON", ("until",), ("from", "why"), "somebody is not there"),
    "down": Form("BAY or EQUIPMENT", ("until",), ("from", "why"), "a bay or a piece of equipment is out of service"),
    "delivered": Form("LOT", ("packs", "expires"), ("at", "product"), "packs of a lot came"),
    "rejected": Form("LOT", (), ("at", "why"), "what is left of a lot may not be used"),
    "forecast": Form("", (), ("at", "file", "from", "until", "rain", "air", "dew", "wind"), "the forecast has changed"),
}
EVERYWHERE: Final = ("by", "note")


@dataclass(frozen=True, slots=True)
class Report:
    """What was typed.

    Attributes
    ----------
    what, about : str
        Kind, and what it is about.
    said : mapping of str to str
        Everything else by name, as text.
    """

    what: str
    about: str = ""
    said: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Objection:
    """Why a report cannot be recorded: where it stands, what is wrong, and what to do about it."""

    place: str
    value: str | None
    problem: str
    cure: str

    def text(self) -> str:
        """For a person, on one line."""
        value = f" '{self.value}'" if self.value is not None else ""
        return f"{self.place}{value}: {self.problem}. Cure: {self.cure}."


class ObjectionError(ValueError):
    """A report that cannot be recorded, with all that is wrong with it."""

    def __init__(self, *objections: Objection) -> None:
        self.objections = objections
        super().__init__("; ".join(o.text() for o in objections))
