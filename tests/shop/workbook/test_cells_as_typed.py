"""What spreadsheet programs make of what is typed: dates, clock times, truth values, formulas, errors."""

from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import pytest

from scheduler.shop.workbook.read import Workbook
from shop.workbook.sheets import change, faults_of


def sheet_of(tmp_path: Path, fill: Callable[[Any, Any], object]) -> Workbook:
    """Make a workbook of one sheet ``units`` with another library than the one that reads it."""
    import xlsxwriter

    with xlsxwriter.Workbook(tmp_path / "typed.xlsx") as made:
        sheet = made.add_worksheet("units")
        sheet.write_row(0, 0, ["a", "b"])
        sheet.write(1, 0, "x")
        fill(made, sheet)
    return Workbook(tmp_path / "typed.xlsx")


TYPED = [
    ("yyyy-mm-dd hh:mm", datetime(2026, 5, 4, 7, 30), "2026-05-04T07:30"),
    ("yyyy-mm-dd hh:mm", datetime(2026, 5, 4), "2026-05-04T00:00"),
    ("dd.mm.yyyy", date(2026, 5, 4), "2026-05-04"),
    ("hh:mm", time(7, 30), "07:30"),
    ("[h]:mm", timedelta(hours=24), "24:00"),
    ("General", 131, "131"),
    ("General", 0.1, "0.1"),
    ("General", 1e9, "1000000000"),
    ("General", True, "yes"),
    ("0%", 0.15, "15 %"),
    ("0.0%", 0.071, "7.1 %"),
]


@pytest.mark.parametrize(("shown", "value", "text"), TYPED)
def test_a_value_is_read_as_it_would_be_typed_into_a_table(tmp_path: Path, shown: str, value: object, text: str) -> None:
    """Dates to ISO 8601, whole numbers without a point, midnight at the end of a day, yes and no."""
    book = sheet_of(tmp_path, lambda made, sheet: sheet.write(1, 1, value, made.add_format({"num_format": shown})))
    raw = book.table("units.csv")
    assert raw.faults == ()
    assert raw.rows[0].cells == {"a": "x", "b": text}


def test_a_formula_counts_with_what_it_came_to(tmp_path: Path) -> None:
    """Planners add up areas in the sheet; the value that was saved with the workbook is taken."""
    raw = sheet_of(tmp_path, lambda _, sheet: sheet.write_formula(1, 1, "=2*3", None, 6)).table("units.csv")
    assert raw.faults == ()
    assert raw.rows[0].cells["b"] == "6"


@pytest.mark.parametrize(("value", "problem"), [("", "no value yet"), ("#REF!", "has an error")])
def test_a_formula_that_came_to_nothing_is_a_fault(tmp_path: Path, value: str, problem: str) -> None:
    """Never an empty cell in silence; the row is left out and the table known not to be whole."""
    raw = sheet_of(tmp_path, lambda _, sheet: sheet.write_formula(1, 1, "=A9", None, value)).table("units.csv")
    (fault,) = raw.faults
    assert (fault.row, fault.column) == (2, "b")
    assert problem in fault.problem
    assert raw.rows == ()
    assert not raw.whole


def test_blank_rows_count_and_a_far_cell_is_no_table(tmp_path: Path) -> None:
    """Rows keep their number; a cell a thousand columns away is told instead of being padded up to."""
    raw = sheet_of(tmp_path, lambda _, sheet: sheet.write(5, 0, "y")).table("units.csv")
    assert [row.line for row in raw.rows] == [2, 6]
    raw = sheet_of(tmp_path, lambda _, sheet: sheet.write(5, 1000, "y")).table("units.csv")
    assert "more than 500 columns" in raw.faults[0].problem


def test_a_share_typed_with_its_sign_is_a_fault_and_no_hundredth_of_it(book: Path) -> None:
    """A spreadsheet program makes 0.15 of what is typed as 15 %: it must not be read as 0.15 percent."""
    change(book, lambda sheets: _percent(sheets["products"]["I3"]))
    (fault,) = faults_of(book)
    assert (fault.column, fault.value, fault.problem) == ("loss_pct", "15 %", "not a number")
    assert "write 15 alone" in fault.cure


def _percent(cell: Any) -> None:
    cell.value, cell.number_format = 0.15, "0%"


def test_dates_of_the_other_calendar_are_the_same_days(tmp_path: Path) -> None:
    """Workbooks may count their days from 1904."""
    import xlsxwriter

    with xlsxwriter.Workbook(tmp_path / "mac.xlsx", {"date_1904": True}) as made:
        sheet = made.add_worksheet("units")
        sheet.write_row(0, 0, ["a"])
        sheet.write_datetime(1, 0, datetime(2026, 5, 4, 7, 30), made.add_format({"num_format": "yyyy-mm-dd hh:mm"}))
    assert Workbook(tmp_path / "mac.xlsx").table("units.csv").rows[0].cells == {"a": "2026-05-04T07:30"}
