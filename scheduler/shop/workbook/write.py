"""Write a shop as a workbook that reads back to the same shop."""

import io
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from scheduler.shop.cell_text import cell_text
from scheduler.shop.fields import Row
from scheduler.shop.shop import Shop
from scheduler.shop.site import Site
from scheduler.shop.tables import TABLES, TYPICAL_YEAR, Table
from scheduler.shop.typed_rows import NONE_WORD, clearable
from scheduler.shop.whole_file import put_file
from scheduler.shop.workbook.book import Book, Cell, new_book
from scheduler.shop.workbook.column_notes import ColumnNote, column_notes
from scheduler.shop.workbook.drop_downs import put_drop_downs
from scheduler.shop.workbook.words import SITE_SHEET

SITE_COLUMNS: Final = ("setting", "value", "means")


def write_workbook(shop: Shop, path: Path) -> None:
    """Write settings and tables; a reader sees the old file or the new one, never a part.

    Parameters
    ----------
    shop : Shop
        A valid shop.
    path : Path
        XLSX file; its folder is made if it is missing.

    Raises
    ------
    ValueError
        If there is a typical year and the settings name no file for it, or a text is too long for a cell.
    OSError
        If the file cannot be written.
    """
    put_file(path, workbook_bytes(shop))


def workbook_bytes(shop: Shop) -> bytes:
    """The shop as the bytes of a workbook."""
    if shop.typical_year and not shop.site.typical_year:
        msg = "the shop has a typical year: name its file in site.typical_year"
        raise ValueError(msg)
    out = io.BytesIO()
    with new_book(out, shop.site.name, exact=True) as book:
        _write_site(book, shop.site)
        for table in TABLES.values():
            if table.name != TYPICAL_YEAR or shop.site.typical_year:
                _write_table(book, table, shop)
    return out.getvalue()


def _write_site(book: Book, site: Site) -> None:
    sheet = book.sheet(SITE_SHEET, SITE_COLUMNS, (28, 40, 90))
    for row, (name, info) in enumerate(Site.model_fields.items(), start=1):
        value = _cell(getattr(site, name), site, "datetime" if isinstance(getattr(site, name), datetime) else "string")
        book.put(sheet, row, [name, value, info.description or ""])


def _write_table(book: Book, table: Table, shop: Shop) -> None:
    notes = column_notes(table)
    sheet = book.sheet(table.name, [n.name for n in notes], [max(12, len(n.name) + 4) for n in notes], [n.kind for n in notes])
    for column, note in enumerate(notes):
        sheet.write_comment(0, column, note.text(), {"x_scale": 2.2, "y_scale": 1.2})
    for row, cells in enumerate(_rows(table.row, getattr(shop, table.name), notes, shop.site), start=1):
        book.put(sheet, row, cells)
    put_drop_downs(sheet, table, notes, shop)


def _rows(model: type[Row], rows: Iterable[Row], notes: tuple[ColumnNote, ...], site: Site) -> Iterable[list[Cell]]:
    cleared = clearable(model)
    for row in rows:
        values = ((note, getattr(row, note.name)) for note in notes)
        yield [NONE_WORD if v is None and n.name in cleared else _cell(v, site, n.kind, n.name) for n, v in values]


def _cell(value: Any, site: Site, kind: str, column: str = "") -> Cell:  # noqa: ANN401 - whatever a row holds
    """Return a value that the file's form keeps to the last digit, or else its text."""
    if isinstance(value, bool) or value is None:
        return cell_text(value, site.tz)
    if isinstance(value, int | float):
        return value
    text = cell_text(value, site.tz, with_offset=column == "at")
    if kind == "datetime":
        moment = datetime.fromisoformat(text)
        return moment if moment.tzinfo is None and not (moment.second or moment.microsecond) else text
    if kind in {"date", "time"}:
        return value if not getattr(value, "second", 0) and not getattr(value, "microsecond", 0) else text
    return text
