"""A workbook as a source of tables: each sheet has the name of its table, the settings stand in the sheet ``site``."""

import io
import warnings
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from pathlib import Path
from typing import Any, Final

from scheduler.shop.faults import Fault
from scheduler.shop.raw_table import RawTable, raw_table
from scheduler.shop.site_file import SiteFile, site_of
from scheduler.shop.tables import SITE_FILE, TYPICAL_YEAR
from scheduler.shop.text_file import Unreadable
from scheduler.shop.workbook.archive import checked_archive
from scheduler.shop.workbook.merged import merged_faults
from scheduler.shop.workbook.sheet_rows import SheetRows
from scheduler.shop.workbook.words import SITE_SHEET, sheet_of

TYPICAL_FILE: Final = f"{TYPICAL_YEAR}.csv"
"""What the settings name where a workbook has a typical year and its settings name none."""


class Workbook:
    """Sheets of a workbook, by the names that their files would have in a folder.

    Parameters
    ----------
    path : Path
        XLSX file.

    Attributes
    ----------
    typical_year : str
        File that the settings name for the typical year; empty for none.

    Raises
    ------
    Unreadable
        If the file is no workbook that can be read.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.data = checked_archive(path)
        self.formulas = _opened(path, self.data, values=False)
        self.values: Any = None
        self.typical_year = ""
        self._site = self._settings()
        self.typical_year = self._site.site.typical_year if self._site.site is not None else ""

    def names(self) -> list[str]:
        """Names of the files that its sheets stand for."""
        named = (self.typical_year if title == TYPICAL_YEAR else f"{title}.csv" for title in self.formulas.sheetnames)
        return sorted(name for name in named if name)

    def site(self) -> SiteFile:
        """Settings, as far as they could be read."""
        return self._site

    def table(self, file: str) -> RawTable:
        """Rows of a sheet as text; cells that cannot be read are faults."""
        sheet = sheet_of(file, self.typical_year)
        rows = SheetRows(file, self.formulas[sheet], lambda: self._values_of(sheet))
        try:
            raw = raw_table(file, rows.numbered())
        except Unreadable as error:
            return RawTable(faults=(error.fault,))
        last = max((row.line for row in raw.rows), default=1)
        merged = tuple(merged_faults(file, self.formulas[sheet], len(raw.columns), last))
        return replace(raw, faults=(*merged, *raw.faults, *rows.faults), whole=raw.whole and not rows.faults)

    def _values_of(self, sheet: str) -> Any:  # noqa: ANN401 - the library has no types
        """Return the sheet with what its formulas came to when it was saved; read only if there are formulas."""
        if self.values is None:
            self.values = _opened(self.path, self.data, values=True)
        return self.values[sheet]

    def _settings(self) -> SiteFile:
        if SITE_SHEET not in self.formulas.sheetnames:
            return SiteFile(faults=(Fault(SITE_FILE, None, None, None, "there is no such sheet", "add the sheet"),))
        raw = self.table(SITE_FILE)
        rows = {row.cells["setting"].strip(): row for row in raw.rows if "setting" in row.cells}
        settings = {key: row.cells["value"] for key, row in rows.items() if "value" in row.cells}
        if TYPICAL_YEAR in self.formulas.sheetnames and self._has_rows(TYPICAL_YEAR):
            settings.setdefault(TYPICAL_YEAR, TYPICAL_FILE)
        site = site_of(settings, {key: row.line for key, row in rows.items()})
        return replace(site, faults=(*_form_faults(raw), *site.faults))

    def _has_rows(self, sheet: str) -> bool:
        """Whether there is anything below the header."""
        rows = islice(self.formulas[sheet].iter_rows(values_only=True), 1, 100)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return any(value is not None for row in rows for value in row)


def _form_faults(raw: RawTable) -> Iterator[Fault]:
    yield from raw.faults
    for column in ("setting", "value"):
        if column not in raw.columns:
            yield Fault(SITE_FILE, 1, column, None, "the column is missing", "add it to the header and to every row")
    seen: dict[str, int] = {}
    for row in raw.rows:
        key = row.cells.get("setting", "").strip()
        if key and seen.setdefault(key, row.line) != row.line:
            yield Fault(SITE_FILE, row.line, key, None, f"row {seen[key]} has it already", "delete one of the two rows")


def _opened(path: Path, data: bytes, *, values: bool) -> Any:  # noqa: ANN401 - the library has no types
    """Open a workbook that has been looked through; whatever the library finds wrong is one fault."""
    from openpyxl import load_workbook

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of parts that are of no use here: drop-downs, colours, print areas
            book = load_workbook(io.BytesIO(data), read_only=True, data_only=values, keep_links=False)
    except Exception as error:
        what = " ".join(str(error).split())[:120] or type(error).__name__
        problem, cure = f"this is no workbook ({what})", "open it in a spreadsheet program and save it again as .xlsx"
        raise Unreadable(Fault(path.name, None, None, None, problem, cure)) from error
    return book
