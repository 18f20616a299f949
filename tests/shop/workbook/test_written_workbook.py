"""What a planner finds in a workbook, looked at with a library that had no hand in writing it."""

from datetime import datetime
from pathlib import Path

import pytest
from openpyxl import load_workbook

from scheduler.shop.shop import Shop
from scheduler.shop.site import Site
from scheduler.shop.tables import TABLES
from scheduler.shop.workbook.write import write_workbook

WRITTEN = [name for name in TABLES if name != "typical_year"]


def test_there_is_a_sheet_for_the_settings_and_for_each_table(original: Path) -> None:
    """In the order of the tables, with every column of the models and every setting with its meaning."""
    book = load_workbook(original)
    assert book.sheetnames == ["site", *WRITTEN]
    for name in WRITTEN:
        assert [cell.value for cell in book[name][1]] == list(TABLES[name].row.model_fields)
    settings = {row[0].value: row[2].value for row in book["site"].iter_rows(min_row=2)}
    assert list(settings) == list(Site.model_fields)
    assert settings["grid_min"] == "length of a slot; divides an hour"


def test_every_head_carries_a_note_from_the_model(original: Path) -> None:
    """What the column means, its bounds, its words, and whether it must be filled in."""
    book = load_workbook(original)
    for name in WRITTEN:
        assert all(cell.comment is not None for cell in book[name][1])
    notes = {cell.value: cell.comment.text for cell in book["orders"][1]}
    assert "one of: together, singly; may be empty" in notes["delivery"]
    assert "at least 1; at most 1000" in notes["weight"]
    assert "must be filled in" in notes["due_at"]


def test_words_and_ids_can_be_chosen_from_lists(original: Path) -> None:
    """An enumeration, yes and no, and the ids of another sheet, also in the rows that are still to be filled in."""
    book = load_workbook(original)
    lists = {
        (name, book[name].cell(1, range_.min_col).value): (rule.formula1, range_.max_row)
        for name in WRITTEN
        for rule in book[name].data_validations.dataValidation
        for range_ in rule.sqref.ranges
    }
    assert lists["orders", "delivery"][0] == '"together,singly"'
    assert lists["surfaces", "grip"][0] == '"yes,no"'
    assert lists["units", "order_id"][0].startswith("orders!$A$2:$A$")
    assert lists["crew", "shift_id"][0].startswith("shifts!$A$2:")
    assert lists["units", "order_id"][1] > 500


def test_dates_and_numbers_are_what_they_are_and_text_stays_text(original: Path) -> None:
    """A date can be sorted, a number added up, an id keeps its zeros."""
    units = load_workbook(original)["units"]
    heads = {cell.value: cell.column for cell in units[1]}
    assert isinstance(units.cell(2, heads["available_from"]).value, datetime)
    assert isinstance(units.cell(2, heads["length_m"]).value, int | float)
    assert units.cell(2, heads["unit_id"]).number_format == "@"


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "https://example.org/x", "1e5", "007", "'x", "<b>"])
def test_text_that_looks_like_something_else_stays_text(template: Shop, tmp_path: Path, text: str) -> None:
    """No formula, no link, no number: also for rows that were made without the border's checks."""
    order = template.orders[0].model_copy(update={"customer": text})
    write_workbook(template.model_copy(update={"orders": (order,)}), tmp_path / "shop.xlsx")
    cell = load_workbook(tmp_path / "shop.xlsx")["orders"]["B2"]
    assert (cell.data_type, cell.value, cell.hyperlink) == ("s", text, None)


@pytest.mark.parametrize("text", ["x" * 40_000, "a_x000D_b", "x005F_"])
def test_a_value_that_does_not_fit_is_not_cut_off(template: Shop, tmp_path: Path, text: str) -> None:
    """Too long, or an escape of the file's form: nothing is lost in silence, and no half of a workbook is left behind."""
    order = template.orders[0].model_copy(update={"customer": text})
    with pytest.raises(ValueError, match="row 2 of the sheet orders"):
        write_workbook(template.model_copy(update={"orders": (order,)}), tmp_path / "shop.xlsx")
    assert list(tmp_path.iterdir()) == []
