"""What a column means, as a note on its head and a list to choose from; all of it from the models of the rows."""

from dataclasses import dataclass
from typing import Any, Final

from scheduler.shop.data_package import fields_of
from scheduler.shop.tables import Table

_WORDS: Final = {
    "number": "number",
    "integer": "whole number",
    "boolean": "yes or no",
    "datetime": "date and time, 2026-05-04 07:30",
    "date": "date, 2026-05-04",
    "time": "time of day, 07:30",
    "string": "text",
}
_BOUNDS: Final = (("minimum", "at least"), ("maximum", "at most"), ("maxLength", "letters at most"))


@dataclass(frozen=True, slots=True)
class ColumnNote:
    """A column in words.

    Attributes
    ----------
    name : str
    kind : str
        Form of its cells: ``string``, ``number``, ``integer``, ``boolean``, ``datetime``, ``date`` or ``time``.
    required : bool
        Whether its cells may not be empty.
    says : str
        What it means, its bounds and what an empty cell stands for.
    choices : tuple of str
        Words that may stand in it; empty if they are not few.
    """

    name: str
    kind: str
    required: bool
    says: str
    choices: tuple[str, ...]

    def text(self) -> str:
        """Everything in a few lines."""
        must = "must be filled in" if self.required else "may be empty"
        choices = f"one of: {', '.join(self.choices)}" if self.choices else _WORDS[self.kind]
        return "\n".join(line for line in (self.says, f"{choices}; {must}") if line)


def column_notes(table: Table) -> tuple[ColumnNote, ...]:
    """Notes of the columns of a table, in their order."""
    return tuple(_note(field) for field in fields_of(table.row))


def _note(field: dict[str, Any]) -> ColumnNote:
    limits = field["constraints"]
    choices = tuple(limits.get("enum", ("yes", "no") if field["type"] == "boolean" else ()))
    parts = [field["description"]] if "description" in field else []
    for word, says in _BOUNDS:
        if word in limits:
            parts.append(f"{says} {limits[word]:g}" if word != "maxLength" else f"{limits[word]} {says}")
    return ColumnNote(field["name"], field["type"], limits["required"], "; ".join(parts), choices)
