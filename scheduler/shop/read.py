"""Read a shop folder: a shop, or every fault of it in one pass."""

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from scheduler.shop.cross_checks import cross_faults
from scheduler.shop.csv_table import read_csv
from scheduler.shop.draft import Draft
from scheduler.shop.faults import BadInputError, Fault, nearest
from scheduler.shop.shop import Shop
from scheduler.shop.site_file import SiteFile, read_site
from scheduler.shop.tables import SITE_FILE, TABLES, TYPICAL_YEAR, Table
from scheduler.shop.typed_rows import TypedTable, typed


def read_shop(folder: Path) -> Shop:
    """Read and validate a shop folder.

    Parameters
    ----------
    folder : Path
        Folder with ``site.toml`` and a CSV file for each table.

    Returns
    -------
    Shop
        All datetimes aware; what is typed without an offset stands in the site's zone.

    Raises
    ------
    BadInputError
        With all faults of the folder, by file and row.
    """
    _require_folder(folder)
    site = read_site(folder)
    names = _names_in(folder)
    draft = Draft(site, {table.name: _read(folder, names, table, site) for table in TABLES.values()})
    faults = [*site.faults, *(f for table in draft.tables.values() for f in table.faults), *cross_faults(draft)]
    if faults or draft.shop is None:
        raise BadInputError(_in_order(faults))
    return draft.shop


def _require_folder(folder: Path) -> None:
    problem = None
    if not folder.exists():
        problem = "there is no such folder"
    elif not folder.is_dir():
        problem = "this is a file, a shop is a folder"
    if problem is not None:
        raise BadInputError([Fault(str(folder), None, None, None, problem, "give the folder that holds site.toml")])


def _names_in(folder: Path) -> list[str]:
    try:
        return sorted(path.name for path in folder.iterdir())
    except OSError as error:
        problem = f"the folder cannot be read ({error.strerror or type(error).__name__})"
        raise BadInputError([Fault(str(folder), None, None, None, problem, "look at its permissions")]) from error


def _read(folder: Path, names: Iterable[str], table: Table, site: SiteFile) -> TypedTable:
    """Read one table; an optional one that is not there is empty, unless a file's name is nearly its own."""
    file = table.file if table.name != TYPICAL_YEAR else (site.site.typical_year if site.site is not None else "")
    if not file or file not in names:
        return _absent(table, file, names)
    raw = read_csv(folder / file)
    return typed(table, file, raw, site.zone)


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
