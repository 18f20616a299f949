"""A table as a page, a spreadsheet and a screen reader get it."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from scheduler.documents.words.direction import without_controls

Cell = str | int | float | None
_STARTS_A_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under named columns; the first cell of a row names the row.

    Attributes
    ----------
    caption : str
        What the table shows.
    columns : tuple of str
        Heads, at least one.
    rows : tuple of tuple of str
        Cells, as many in each row as there are columns.
    """

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def csv_text(columns: Iterable[str], rows: Iterable[Iterable[Cell]]) -> str:
    r"""Write rows as CSV (RFC 4180) that a spreadsheet opens as what it is.

    Parameters
    ----------
    columns : iterable of str
        Column names, with the unit in the name.
    rows : iterable of iterable
        Numbers stay numbers, None is empty. Text that a spreadsheet would run as a formula gets an apostrophe in front;
        controls of direction are left out.

    Returns
    -------
    str
        With ``\r\n`` after each line and a byte order mark in front, without which spreadsheets misread names.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(columns)
    writer.writerows([[_inert(cell) for cell in row] for row in rows])
    return "\ufeff" + out.getvalue()


def _inert(cell: Cell) -> Cell:
    if not isinstance(cell, str):
        return cell
    plain = without_controls(cell)
    return f"'{plain}" if plain.startswith(_STARTS_A_FORMULA) else plain
