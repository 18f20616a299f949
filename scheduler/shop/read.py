"""Read a shop folder or a workbook: a shop, or every fault of it in one pass."""

from collections.abc import Iterable
from pathlib import Path
from typing import Final, Protocol

from scheduler.shop.cross_checks import cross_faults
from scheduler.shop.draft import Draft
from scheduler.shop.faults import BadInputError, Fault, nearest
from scheduler.shop.folder import Folder
from scheduler.shop.raw_table import RawTable
from scheduler.shop.shop import Shop
from scheduler.shop.site_file import SiteFile
from scheduler.shop.tables import SITE_FILE, TABLES, TYPICAL_YEAR, WORKBOOK_END, Table
from scheduler.shop.text_file import Unreadable
from scheduler.shop.typed_rows import TypedTable, typed


class Source(Protocol):
    """Where tables come from, by the names that their files have in a folder."""

    def names(self) -> list[str]:
        """Names of the files that are there."""

    def site(self) -> SiteFile:
        """Settings, as far as they could be read."""

    def table(self, file: str) -> RawTable:
        """Rows of a table as text."""


def read_shop(place: Path) -> Shop:
    """Read and validate a shop folder or a workbook.

    Parameters
    ----------
    place : Path
        Folder with ``site.toml`` and a CSV file for each table, or an XLSX file with a sheet for each.

    Returns
    -------
    Shop
        All datetimes aware; what is typed without an offset stands in the site's zone.

    Raises
    ------
    BadInputError
        With all faults, by file or sheet and row.
    """
    return _read_workbook(place) if is_workbook(place) else _shop_of(Folder(place))


def is_workbook(place: Path) -> bool:
    """Whether a place is meant to be a workbook and no folder."""
    return place.suffix.lower() == WORKBOOK_END and not place.is_dir()


def _read_workbook(path: Path) -> Shop:
    from scheduler.shop.workbook.read import Workbook
    from scheduler.shop.workbook.words import said_of_sheets

    try:
        book = Workbook(path)
    except Unreadable as error:
        raise BadInputError([error.fault]) from error
    try:
        return _shop_of(book)
    except BadInputError as error:
        raise BadInputError(said_of_sheets(path.name, error.faults, book.typical_year)) from error


def _shop_of(source: Source) -> Shop:
    site, names = source.site(), source.names()
    draft = Draft(site, {table.name: _read(source, names, table, site) for table in TABLES.values()})
    faults = [*site.faults, *(f for table in draft.tables.values() for f in table.faults), *cross_faults(draft)]
    if faults or draft.shop is None:
        raise BadInputError(_in_order(faults))
    return draft.shop


def _read(source: Source, names: Iterable[str], table: Table, site: SiteFile) -> TypedTable:
    """Read one table; an optional one that is not there is empty, unless a file's name is nearly its own."""
    file = table.file if table.name != TYPICAL_YEAR else (site.site.typical_year if site.site is not None else "")
    if not file or file not in names:
        return _absent(table, file, names)
    return typed(table, file, source.table(file), site.zone)


def _absent(table: Table, file: str, names: Iterable[str]) -> TypedTable:
    taken = {t.file for t in TABLES.values()}
    others = {Path(name).stem: name for name in names if name.lower().endswith(".csv") and name not in taken}
    meant = others.get(nearest(Path(file).stem, others, cutoff=0.8) or "") if file else None
    named = table.name == TYPICAL_YEAR and bool(file)
    if meant is None and not table.required and not named:
        return TypedTable(file or table.file)
    cure = f"rename {meant} to {file}" if meant is not None else "add the file"
    fault = Fault(file, None, None, None, _MISSING[named], cure)
    return TypedTable(file, faults=(fault,), listed=False, whole=False)


def _in_order(faults: Iterable[Fault]) -> list[Fault]:
    files = {SITE_FILE: -1} | {table.file: i for i, table in enumerate(TABLES.values())}
    return sorted(faults, key=lambda f: (files.get(f.file, len(files)), f.row or 0, f.column or ""))


_MISSING: Final = {False: "there is no such file", True: "site.toml names this file as the typical year and it is not there"}
