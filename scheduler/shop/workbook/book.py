"""A workbook as it is written: text stays text, numbers keep their last digit, heads stay in sight."""

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime, time
from typing import IO, Any, Final

Cell = str | int | float | datetime | date | time | None

_FORMATS: Final = {"datetime": "yyyy-mm-dd hh:mm", "date": "yyyy-mm-dd", "time": "hh:mm"}
_HEAD: Final = {"bold": True, "bottom": 1, "bg_color": "#E8ECEF", "text_wrap": True, "valign": "top"}
_ESCAPE: Final = re.compile("x005F_|_x00[01][0-9A-Fa-f]_")
_MADE: Final = datetime(2020, 1, 1)
"""Day that stands in the file as the day of its making: the same input gives the same bytes."""


class Book:
    """A workbook that is being written.

    Parameters
    ----------
    workbook : xlsxwriter.Workbook
    exact : bool
        Refuse texts that would not be read back letter by letter.
    """

    def __init__(self, workbook: Any, *, exact: bool) -> None:  # noqa: ANN401 - the library has no types
        self.exact = exact
        self.workbook = workbook
        self.head = workbook.add_format(_HEAD)
        self.text = workbook.add_format({"num_format": "@"})
        self.formats = {kind: workbook.add_format({"num_format": shown}) for kind, shown in _FORMATS.items()}

    def sheet(self, name: str, columns: Sequence[str], widths: Sequence[float], kinds: Sequence[str] = ()) -> Any:  # noqa: ANN401
        """Add a sheet with a head that stays in sight; columns of text and of dates keep what is typed into them as such."""
        sheet = self.workbook.add_worksheet(name)
        sheet.freeze_panes(1, 1)
        for column, (title, width) in enumerate(zip(columns, widths, strict=True)):
            kind = kinds[column] if kinds else ""
            sheet.set_column(column, column, width, self.text if kind == "string" else self.formats.get(kind))
            sheet.write_string(0, column, title, self.head)
        sheet.autofilter(0, 0, 0, len(columns) - 1)
        return sheet

    def put(self, sheet: Any, row: int, cells: Sequence[Cell]) -> None:  # noqa: ANN401 - the library has no types
        """Write a row.

        Raises
        ------
        ValueError
            If a text is longer than a cell can hold or looks like an escape of the file's form, which would not be read
            back as it is, or the sheet has no such row.
        """
        for column, cell in enumerate(cells):
            if cell is not None and cell != "" and self._put(sheet, row, column, cell):
                msg = f"row {row + 1} of the sheet {sheet.name}: a value does not fit into the workbook"
                raise ValueError(msg)

    def _put(self, sheet: Any, row: int, column: int, cell: Cell) -> int:  # noqa: ANN401 - the library has no types
        if isinstance(cell, datetime):
            return int(sheet.write_datetime(row, column, cell, self.formats["datetime"]))
        if isinstance(cell, date):
            return int(sheet.write_datetime(row, column, cell, self.formats["date"]))
        if isinstance(cell, time):
            return int(sheet.write_datetime(row, column, cell, self.formats["time"]))
        if isinstance(cell, int | float) and _is_exact(cell):
            return int(sheet.write_number(row, column, cell))
        text = cell if isinstance(cell, str) else repr(cell)
        return -1 if self.exact and _ESCAPE.search(text) else int(sheet.write_string(row, column, text, self.text))


@contextmanager
def new_book(out: IO[bytes], title: str, *, exact: bool) -> Iterator[Book]:
    """Write a workbook into a stream; it is whole when the block ends. ``exact`` refuses what would not be read back."""
    from xlsxwriter import Workbook

    options = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True}
    with Workbook(out, options) as workbook:
        workbook.set_properties({"title": title[:255], "created": _MADE})
        yield Book(workbook, exact=exact)


def _is_exact(number: float) -> bool:
    """Whether a number survives the sixteen digits that are written of it."""
    return float(f"{number:.16G}") == number
