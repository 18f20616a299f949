"""A workbook and a folder with the same texts in their cells have the same faults."""

import csv
import shutil
import tomllib
from pathlib import Path

import pytest
import xlsxwriter
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.shop.faults import Fault
from scheduler.shop.tables import TABLES
from scheduler.shop.workbook.words import said_of_sheets
from shop import folder as shop_folder
from shop.folder import add, drop, edit, set_site, table_of
from shop.test_never_a_traceback import NASTY
from shop.workbook.sheets import faults_of

Seen = tuple[str | None, int | None, str | None, str | None, str, str]


def as_workbook(folder: Path, path: Path) -> None:
    """Every cell of a folder as a text cell of a workbook, whatever stands in it."""
    settings_of_site = tomllib.loads((folder / "site.toml").read_text("utf-8"))
    with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "strings_to_urls": False}) as book:
        site = book.add_worksheet("site")
        site.write_row(0, 0, ["setting", "value"])
        for row, (key, value) in enumerate(settings_of_site.items(), start=1):
            site.write_string(row, 0, key)
            site.write_string(row, 1, value.isoformat() if hasattr(value, "isoformat") else str(value))
        for table in TABLES.values():
            if (folder / table.file).is_file():
                sheet = book.add_worksheet(table.name)
                with (folder / table.file).open(encoding="utf-8", newline="") as lines:
                    for row, cells in enumerate(csv.reader(lines)):
                        for column, cell in enumerate(cells):
                            sheet.write_string(row, column, cell)


def seen(faults: tuple[Fault, ...]) -> set[Seen]:
    """Faults to compare: settings stand on other lines of a file than of a sheet."""
    return {(f.sheet, f.row if f.sheet != "site" else None, f.column, f.value, f.problem, f.cure) for f in faults}


def compare(folder: Path, path: Path) -> set[Seen]:
    """Faults of both, which must be the same."""
    as_workbook(folder, path)
    of_folder = seen(tuple(said_of_sheets(path.name, shop_folder.faults_of(folder), "")))
    assert seen(faults_of(path)) == of_folder
    return of_folder


def _twice(folder: Path) -> None:
    path = folder / "crew.csv"
    path.write_text(path.read_text("utf-8").replace("shift_id,respirator_h", "shift_id,shift_id"), "utf-8")


SPOILT = {
    "end before start": lambda f: edit(f, "closures", 2, closed_from="2026-06-20T07:00", closed_until="2026-06-19T07:00"),
    "an hour that the spring day skips": lambda f: edit(f, "units", 2, available_from="2026-03-08T02:30"),
    "a moment with an offset": lambda f: edit(f, "units", 2, available_from="2026-06-15T11:00+25:00"),
    "30 February": lambda f: edit(f, "lots", 2, expires_on="2026-02-30"),
    "no number": lambda f: edit(f, "units", 2, mass_kg="1e309"),
    "a decimal comma": lambda f: edit(f, "units", 2, mass_kg="850,5"),
    "an id that differs by case": lambda f: add(f, "units", unit_id="h1"),
    "a row twice": lambda f: add(f, "lots"),
    "an unknown bay": lambda f: add(f, "pinned", unit_id="H1", step="abrade", start_at="2026-06-16T08:00", bay_id="B9"),
    "nobody with the skill": lambda f: edit(f, "methods", 5, people="acrobat:1"),
    "a column twice": _twice,
    "a wrong zone": lambda f: set_site(f, "zone", '"Mars/Base"'),
    "a table that is missing": lambda f: (f / "bays.csv").unlink(),
    "no rows": lambda f: drop(f, "orders", 2, 3, 4),
    "a formula": lambda f: edit(f, "orders", 2, customer='=HYPERLINK("x")'),
    "a name that turns the direction": lambda f: edit(f, "orders", 2, customer="\u202eevil"),
}


@pytest.mark.parametrize("case", SPOILT)
def test_the_same_fault_in_a_folder_and_in_a_workbook(folder: Path, tmp_path: Path, case: str) -> None:
    """Problem, cure, value and place are the same; only files are sheets."""
    SPOILT[case](folder)
    assert compare(folder, tmp_path / "shop.xlsx")


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_words_in_any_cells(folder: Path, tmp_path: Path, data: st.DataObject) -> None:
    """Up to three cells are overwritten: both say the same, or both accept it."""
    copy = tmp_path / "copy"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(folder, copy)
    (copy / "weather.csv").write_text("\n".join((folder / "weather.csv").read_text("utf-8").split("\n")[:40]) + "\n", "utf-8")
    for _ in range(data.draw(st.integers(1, 3))):
        table = data.draw(st.sampled_from([t.name for t in TABLES.values() if t.name not in {"typical_year", "weather"}]))
        rows = table_of(copy, table)
        if rows:
            row = data.draw(st.integers(2, len(rows) + 1))
            edit(copy, table, row, **{data.draw(st.sampled_from(list(rows[0]))): data.draw(NASTY.filter(lambda w: w != "\n"))})
    compare(copy, tmp_path / "shop.xlsx")
