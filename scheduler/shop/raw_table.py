"""A table as it stands in a file: a header and rows of text cells, each with the line on which it starts."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from scheduler.shop.faults import Fault

MOST_ROWS: Final = 100_000
Numbered = Iterator[tuple[int, list[str]]]
"""Rows that are not blank, each with the line on which it starts."""


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


def raw_table(file: str, numbered: Numbered) -> RawTable:
    """Put a header and rows together; at most 100,000 rows, faults are in the result."""
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
