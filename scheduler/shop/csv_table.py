"""A table as it stands in a CSV file: a header and rows of text cells, each with the line on which it starts."""

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from scheduler.shop.faults import Fault
from scheduler.shop.text_file import Unreadable, read_text

MOST_ROWS: Final = 100_000
_SEPARATORS: Final = {";": "semicolons", "\t": "tabs", "|": "bars"}


@dataclass(frozen=True, slots=True)
class RawRow:
    """A row: its line in the file (the header is 1) and its cells that are not empty, by column."""

    line: int
    cells: dict[str, str]


@dataclass(frozen=True, slots=True)
class RawTable:
    """A table of text.

    Attributes
    ----------
    columns : tuple of str
        Names in the header.
    rows : tuple of RawRow
        Rows that are not blank and have as many cells as the header.
    faults : tuple of Fault
        What is wrong with the file's form.
    whole : bool
        Whether every row of the file is in ``rows``.
    """

    columns: tuple[str, ...] = ()
    rows: tuple[RawRow, ...] = ()
    faults: tuple[Fault, ...] = ()
    whole: bool = False


def read_csv(path: Path) -> RawTable:
    """Read a CSV file: commas, a header, at most 100,000 rows; faults are in the result, none is raised."""
    try:
        text = read_text(path)
        wrong = _wrong_separator(path.name, text)
        return RawTable(faults=(wrong,)) if wrong is not None else _table(path.name, text)
    except Unreadable as error:
        return RawTable(faults=(error.fault,))


def _wrong_separator(file: str, text: str) -> Fault | None:
    header = text.lstrip("\r\n").partition("\n")[0]
    for mark, name in _SEPARATORS.items():
        if header.count(mark) > header.count(","):
            return Fault(file, 1, None, None, f"the columns are separated by {name}", "save it with commas between the columns")
    return None


def _table(file: str, text: str) -> RawTable:
    numbered = _numbered(file, text)
    first, header = next(numbered, (1, []))
    columns = tuple(cell.strip() for cell in header)
    faults = list(_header_faults(file, first, columns))
    rows: list[RawRow] = []
    whole = True
    for line, cells in numbered:
        if len(rows) == MOST_ROWS:
            too_long = Fault(file, line, None, None, f"more than {MOST_ROWS:,} rows", "leave out what the plan does not need")
            return RawTable(columns, (), (too_long,))
        if len(cells) != len(columns):
            faults.append(_ragged(file, line, cells, len(columns)))
            whole = False
        else:
            rows.append(RawRow(line, {c: v for c, v in zip(columns, cells, strict=True) if v.strip()}))
    return RawTable(columns, tuple(rows), tuple(faults), whole)


def _numbered(file: str, text: str) -> Iterator[tuple[int, list[str]]]:
    """Yield rows that are not blank with the line on which each starts: a quoted cell may run over several lines."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    last = 0
    try:
        for cells in reader:
            first, last = last + 1, reader.line_num
            if any(cell.strip() for cell in cells):
                yield first, cells
    except csv.Error as error:
        fault = Fault(file, last + 1, None, None, f"no valid CSV ({error})", "close every quote; write two for one in a text")
        raise Unreadable(fault) from error


def _header_faults(file: str, line: int, columns: tuple[str, ...]) -> Iterator[Fault]:
    for number, column in enumerate(columns, start=1):
        if not column:
            yield Fault(file, line, None, None, f"column {number} has no name", "name it, or delete the column")
        elif column in columns[: number - 1]:
            yield Fault(file, line, column, None, "two columns have this name", "rename or delete one of them")


def _ragged(file: str, line: int, cells: list[str], wanted: int) -> Fault:
    problem = f"{len(cells)} cells where the header has {wanted}"
    if len(cells) < wanted:
        return Fault(file, line, None, None, problem, "add the missing commas")
    return Fault(file, line, None, None, problem, "write numbers with a point, put text with commas in double quotes")
