"""Rows that say the same thing twice, and ids that differ only by case or Unicode form."""

import unicodedata
from collections.abc import Iterator

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.fields import Row
from scheduler.shop.raw_table import RawRow
from scheduler.shop.tables import TABLES, Table


def duplicates(draft: Draft) -> Iterator[Fault]:
    """Report every row whose key has been there before."""
    for table in TABLES.values():
        yield from _in_table(draft, table)


def _in_table(draft: Draft, table: Table) -> Iterator[Fault]:
    seen: dict[tuple[object, ...], tuple[int, list[object]]] = {}
    typed = draft.tables[table.name]
    for raw in typed.raw:
        values = _values(table, raw, typed.rows.get(raw.line))
        if None in values:
            continue
        first_line, first = seen.setdefault(tuple(_folded(value) for value in values), (raw.line, values))
        if first_line != raw.line:
            text = _text(values)
            problem, cure = _words(text, _text(first), first_line)
            problem += _differs(typed.rows.get(first_line), typed.rows.get(raw.line), table)
            yield draft.fault(table.name, raw.line, " + ".join(table.key), text, problem, cure)


def _text(values: list[object]) -> str:
    return " / ".join(str(value) for value in values)


def _words(text: str, first_text: str, first_line: int) -> tuple[str, str]:
    if text == first_text:
        return f"row {first_line} has it already", "delete one of the two rows or rename one"
    return f"differs from '{first_text}' in row {first_line} only by case or Unicode form", "write them alike, or rename one"


def _differs(first: Row | None, again: Row | None, table: Table) -> str:
    """Columns in which two rows of one name say different things."""
    if first is None or again is None:
        return ""
    names = [n for n in type(first).model_fields if n not in table.key and getattr(first, n) != getattr(again, n)]
    return f", with another {', '.join(names[:3])}{' and more' if len(names) > 3 else ''}" if names else ""


def _values(table: Table, raw: RawRow, row: Row | None) -> list[object]:
    """Values of the key; of a row that is not valid its texts, which tell ids apart at least."""
    if row is None:
        return [raw.cells[column].strip() if column in raw.cells else None for column in table.key]
    return [getattr(row, column) for column in table.key]


def _folded(value: object) -> object:
    return unicodedata.normalize("NFKC", value).casefold() if isinstance(value, str) else value
