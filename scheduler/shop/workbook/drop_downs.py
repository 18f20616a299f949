"""Lists to choose from in the cells of a workbook: the words of an enumeration, and the ids of other tables."""

from typing import Any, Final

from scheduler.shop.shop import Shop
from scheduler.shop.tables import TABLES, Table
from scheduler.shop.workbook.column_notes import ColumnNote

SPARE_ROWS: Final = 500
"""Rows below those that are filled in which have lists too."""
_LONGEST_LIST: Final = 255
"""Letters of a list that is written out (ECMA-376, list in a data validation)."""


def put_drop_downs(sheet: Any, table: Table, notes: tuple[ColumnNote, ...], shop: Shop) -> None:  # noqa: ANN401 - the library has no types
    """Put the lists of a table into its sheet. What is not in a list may be typed all the same; the check then tells."""
    last = len(getattr(shop, table.name)) + SPARE_ROWS
    for column, note in enumerate(notes):
        source = _source(table, note, shop)
        if source is not None:
            rule = {"validate": "list", "source": source, "error_type": "warning", "error_title": "Not in the list"}
            sheet.data_validation(1, column, last, column, rule)


def _source(table: Table, note: ColumnNote, shop: Shop) -> str | list[str] | None:
    for refers in table.refers:
        if refers.column == note.name:
            return _ids(refers.table, refers.there, shop)
    fits = note.choices and len(",".join(note.choices)) <= _LONGEST_LIST
    return list(note.choices) if fits else None


def _ids(table: str, column: str, shop: Shop) -> str:
    """Cells of another sheet, with spare rows for those that are added to it."""
    from xlsxwriter.utility import xl_range_abs

    place = list(TABLES[table].row.model_fields).index(column)
    return f"={table}!{xl_range_abs(1, place, len(getattr(shop, table)) + SPARE_ROWS, place)}"
