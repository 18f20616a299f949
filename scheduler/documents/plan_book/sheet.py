"""A sheet of the plan's workbook before it is written: named columns with notes, and rows of plain values."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

from scheduler.shop.cell_text import cell_text
from scheduler.shop.workbook.book import Book, Cell
from scheduler.shop.workbook.cell_value import LONGEST

_WIDTHS: Final = {"datetime": 18.0, "date": 12.0, "number": 12.0, "boolean": 10.0, "string": 22.0, "long": 60.0}
_YES_NO: Final = ("yes", "no")


@dataclass(frozen=True, slots=True)
class Column:
    """A column.

    Attributes
    ----------
    name : str
        With the unit of what stands in it.
    note : str
        What it means.
    kind : str
        ``string``, ``long`` for text that needs room, ``number``, ``datetime``, ``date`` or ``boolean``.
    choices : tuple of str
        Words that stand in it, where they are few.
    """

    name: str
    note: str
    kind: str = "string"
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet; as many cells in each row as there are columns."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


def put_sheet(book: Book, sheet: Sheet) -> None:
    """Write a sheet with notes on its heads and lists in its cells."""
    kinds = ["string" if column.kind in {"long", "boolean"} else column.kind for column in sheet.columns]
    widths = [max(_WIDTHS[column.kind], len(column.name) + 4.0) for column in sheet.columns]
    made = book.sheet(sheet.name, [column.name for column in sheet.columns], widths, kinds)
    for number, column in enumerate(sheet.columns):
        made.write_comment(0, number, column.note, {"x_scale": 2})
        choices = column.choices or (_YES_NO if column.kind == "boolean" else ())
        if choices and sheet.rows:
            rule = {"validate": "list", "source": list(choices), "error_type": "warning"}
            made.data_validation(1, number, len(sheet.rows), number, rule)
    for row, cells in enumerate(sheet.rows, start=1):
        book.put(made, row, [cell[:LONGEST] if isinstance(cell, str) else cell for cell in cells])


def moment(at: datetime, tz: ZoneInfo) -> Cell:
    """A moment on the site's clock that can be sorted; as text with its offset where the clock shows it twice."""
    text = cell_text(at, tz)
    plain = datetime.fromisoformat(text)
    return plain if plain.tzinfo is None else text


def yes(flag: bool) -> str:
    """The word for a flag."""
    return "yes" if flag else "no"
