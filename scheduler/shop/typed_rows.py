"""Rows of text into rows of a model, with a fault for every cell that the model refuses."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from types import NoneType
from typing import Any, Final, get_args
from zoneinfo import ZoneInfo

from pydantic import TypeAdapter, ValidationError

from scheduler.shop.cell_errors import explain
from scheduler.shop.faults import Fault, choose
from scheduler.shop.fields import Row
from scheduler.shop.raw_table import RawRow, RawTable
from scheduler.shop.tables import Table

MOST_FAULTS: Final = 1000
NONE_WORD: Final = "none"
_CHUNK: Final = 2000


@dataclass(frozen=True, slots=True)
class TypedTable:
    """A table of a shop folder, as far as it could be read.

    Attributes
    ----------
    file : str
        Its file.
    raw : tuple of RawRow
        Its rows as text.
    rows : dict of int to Row
        Those of them that are valid, by line.
    listed, whole : bool
        Whether every row of the file is in ``raw``, and in ``rows``: only then the lack of a row means something.
    """

    file: str
    raw: tuple[RawRow, ...] = ()
    rows: dict[int, Row] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()
    listed: bool = True
    whole: bool = True


def typed(table: Table, file: str, raw: RawTable, zone: ZoneInfo) -> TypedTable:
    """Validate the rows of a table; times without an offset stand in ``zone``."""
    faults = [*raw.faults, *_column_faults(table, file, raw)]
    if raw.whole and not raw.rows and not table.may_be_empty:
        faults.append(Fault(file, None, None, None, "the table has no rows", f"add a row for {table.says}"))
    rows: dict[int, Row] = {}
    for first in range(0, len(raw.rows), _CHUNK):
        good, bad = _chunk(table, file, raw, raw.rows[first : first + _CHUNK], zone)
        rows |= good
        faults += bad
        if len(faults) > MOST_FAULTS:
            more = Fault(file, None, None, None, f"more than {MOST_FAULTS:,} faults", "cure these first, the rest is not listed")
            return TypedTable(file, raw.rows, rows, (*faults[:MOST_FAULTS], more), raw.whole, whole=False)
    return TypedTable(file, raw.rows, rows, tuple(faults), raw.whole, raw.whole and len(rows) == len(raw.rows))


def _column_faults(table: Table, file: str, raw: RawTable) -> Iterator[Fault]:
    known = table.row.model_fields
    for column in dict.fromkeys(raw.columns):
        if column and column not in known:
            cure = choose(column, [c for c in known if c not in raw.columns], "delete the column")
            yield Fault(file, 1, column, None, "unknown column", cure)
    for name, info in known.items():
        if raw.columns and name not in raw.columns and info.is_required():
            yield Fault(file, 1, name, None, "the column is missing", "add it to the header and to every row")


def _chunk(
    table: Table, file: str, raw: RawTable, rows: tuple[RawRow, ...], zone: ZoneInfo
) -> tuple[dict[int, Row], list[Fault]]:
    known, cleared = frozenset(table.row.model_fields), clearable(table.row)
    cells = [_cells(row, known, cleared) for row in rows]
    try:
        return _valid(table.row, rows, cells, zone), []
    except ValidationError as error:
        errors = error.errors(include_url=False, include_input=False)
    bad = {e["loc"][0] for e in errors}
    faults = [_fault(file, rows[int(e["loc"][0])], e) for e in errors if e["type"] != "missing" or e["loc"][1] in raw.columns]
    good = [i for i in range(len(rows)) if i not in bad]
    return _valid(table.row, tuple(rows[i] for i in good), [cells[i] for i in good], zone), faults


def _valid(model: type[Row], rows: tuple[RawRow, ...], cells: list[dict[str, Any]], zone: ZoneInfo) -> dict[int, Row]:
    made = _adapter(model).validate_python(cells, context={"zone": zone})
    return {raw.line: row for raw, row in zip(rows, made, strict=True)}


def _cells(row: RawRow, known: frozenset[str], cleared: frozenset[str]) -> dict[str, Any]:
    """Cells of known columns; the word none clears a column that is not empty by default."""
    cells: dict[str, Any] = {c: v for c, v in row.cells.items() if c in known}
    for column in cleared & cells.keys():
        if cells[column].strip().lower() == NONE_WORD:
            cells[column] = None
    return cells


def _fault(file: str, row: RawRow, error: Any) -> Fault:  # noqa: ANN401 - the library's own error record
    column = str(error["loc"][1])
    value = row.cells.get(column)
    problem, cure = explain(error["type"], error.get("ctx", {}), value or "", error["msg"])
    return Fault(file, row.line, column, value, problem, cure)


@cache
def _adapter(model: type[Row]) -> TypeAdapter[list[Row]]:
    return TypeAdapter(list[model])  # type: ignore[valid-type]


@cache
def clearable(model: type[Row]) -> frozenset[str]:
    """Return the columns that may be none but are something else when they are left empty."""
    fields = model.model_fields.items()
    return frozenset(n for n, f in fields if NoneType in get_args(f.annotation) and not f.is_required() and f.default is not None)
