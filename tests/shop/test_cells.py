"""One wrong cell: one fault with file, row, column, value and a cure that helps."""

from pathlib import Path

import pytest

from shop.folder import add, edit, edit_all, faults_of, only_fault, place, set_site, table_of

CELLS = [
    ("units", 3, "mass_kg", "nan", "not a finite number", "write a number"),
    ("units", 3, "mass_kg", "inf", "not a finite number", "write a number"),
    ("units", 3, "mass_kg", "1e309", "not a finite number", "write a number"),
    ("units", 3, "mass_kg", "-850", "must be above 0", "correct"),
    ("units", 3, "mass_kg", "850,5", "not a number", "write 850.5, with a point"),
    ("units", 3, "mass_kg", "850 kg", "not a number", "write 850 alone"),
    ("units", 3, "mass_kg", "heavy", "not a number", "such as 12.5"),
    ("units", 3, "mass_kg", "", "empty", "fill it in"),
    ("units", 3, "name", "=HYPERLINK(1)", "formula", "start the name with a letter"),
    ("units", 3, "name", "+1", "formula", "start the name with a letter"),
    ("units", 3, "name", "-x", "formula", "start the name with a letter"),
    ("units", 3, "name", "@x", "formula", "start the name with a letter"),
    ("units", 3, "name", "\tx", "formula", "start the name with a letter"),
    ("units", 3, "name", "x" * 201, "longer than 200", "shorten"),
    ("units", 3, "unit_id", "H 2", "not an id", "letters, digits"),
    ("units", 3, "available_from", "2026-02-30T07:00", "no such date", "write it as"),
    ("units", 3, "available_from", "2026-06-15", "not a date with a time", "write it as"),
    ("units", 3, "available_from", "15.6.2026 07:00", "not a date with a time", "write it as"),
    ("units", 3, "available_from", "2026-03-08T02:30", "no 02:30 on 2026-03-08 in America/New_York", "write a time that is"),
    ("orders", 2, "weight", "1.5", "not a whole number", "whole number"),
    ("orders", 2, "delivery", "singl", "not a word that is known", "write singly"),
    ("lots", 2, "expires_on", "2026-06-31", "no such date", "write it as"),
    ("surfaces", 2, "failing_pct", "101", "must be 100 or less", "correct"),
    ("surfaces", 2, "grip", "maybe", "neither yes nor no", "write yes or no"),
    ("surfaces", 2, "area_m2", "-9", "must be above 0", "correct"),
    ("products", 3, "gel_time_min", "P1M", "not a duration", "PT2H30M"),
    ("methods", 2, "people", "driver:zero", "not a skill with a head count", "sprayer:1"),
    ("shifts", 2, "weekdays", "mon dienstag", "dienstag: no weekday", "mon tue wed thu fri sat sun"),
    ("shifts", 2, "ends", "15.30", "not a time of day", "07:30"),
    ("weather", 9, "wind_m_s", "468.7", "must be 110 or less", "correct"),
    ("weather", 9, "rh_pct", "0", "must be 0.1 or more", "correct"),
    ("weather", 9, "air_temp_c", "-300", "must be -45 or more", "correct"),
]


@pytest.mark.parametrize(("table", "row", "column", "value", "problem", "cure"), CELLS)
def test_a_wrong_cell(folder: Path, table: str, row: int, column: str, value: str, problem: str, cure: str) -> None:
    """The fault stands in the cell that was changed, shows what stands there and how to write it."""
    edit(folder, table, row, **{column: value})
    fault = next(f for f in faults_of(folder) if f.file == f"{table}.csv")
    assert place(fault) == (f"{table}.csv", row, column)
    assert fault.value == (value or None)
    assert problem in fault.problem
    assert cure in fault.cure
    assert f"row {row}, column {column}" in fault.text()


SETTINGS = [
    ("zone", '"Mars/Base"', "no zone", "Europe/Berlin"),
    ("latitude_deg", "91", "must be 90 or less", "correct"),
    ("latitude_deg", "nan", "not a finite number", "write a number"),
    ("grid_min", "7", "do not divide an hour", "15"),
    ("plan_from", "2026-06-15", "not a date with a time", "write it as"),
    ("plan_from", "17", "not a date with a time", "write it as"),
    ("reads", '"imperial"', "not a word that is known", "use one of si, us"),
    ("typical_year", '"../secrets.csv"', "not a file name", "lies in the shop folder"),
    ("name", "3", "not a text", "double quotes"),
]


@pytest.mark.parametrize(("key", "value", "problem", "cure"), SETTINGS)
def test_a_wrong_setting(folder: Path, key: str, value: str, problem: str, cure: str) -> None:
    """Settings have faults of the same form, with the line on which they stand."""
    set_site(folder, key, value)
    row = next(i for i, line in enumerate((folder / "site.toml").read_text().splitlines(), 1) if line.startswith(key))
    fault = faults_of(folder)[0]
    assert place(fault) == ("site.toml", row, key)
    assert problem in fault.problem
    assert cure in fault.cure


def test_unknown_missing_and_broken_settings(folder: Path) -> None:
    """An unknown key gets its nearest name, a missing one is named, and a file that is no TOML says where."""
    text = (folder / "site.toml").read_text()
    (folder / "site.toml").write_text(text.replace("altitude_m", "altitud_m").replace("latitude_deg = 40.7\n", ""))
    found = {fault.column: fault for fault in faults_of(folder)}
    assert "write altitude_m" in found["altitud_m"].cure
    assert found["latitude_deg"].problem == "the setting is missing"
    (folder / "site.toml").write_text('name = "x"\nzone = Europe/Berlin\n')
    assert place(only_fault(folder)) == ("site.toml", 2, None)


def test_a_wrong_setting_does_not_hide_faults_of_tables(folder: Path) -> None:
    """Wrong cells, duplicate and unknown ids are found although the settings are wrong."""
    set_site(folder, "zone", '"Mars/Base"')
    edit(folder, "units", 2, mass_kg="x")
    edit(folder, "surfaces", 3, system_id="S9")
    add(folder, "orders")
    assert [f.file for f in faults_of(folder)] == ["site.toml", "orders.csv", "units.csv", "surfaces.csv"]


def test_columns_that_are_unknown_or_missing(folder: Path) -> None:
    """One fault for the column, none for every row of it; an optional column may be left out."""
    path = folder / "units.csv"
    path.write_text(path.read_text().replace("mass_kg", "mas_kg").replace("must_leave_by", "leave_by"))
    found = {f.column: f for f in faults_of(folder)}
    assert set(found) == {"mas_kg", "mass_kg", "leave_by"}
    assert {f.row for f in found.values()} == {1}
    assert "write mass_kg" in found["mas_kg"].cure
    assert found["mass_kg"].problem == "the column is missing"


def test_an_empty_cell_is_the_default_or_none_and_the_word_none_clears_a_default(folder: Path) -> None:
    """The humidity limit of a product is 85 % unless it says otherwise, and can be cleared."""
    from scheduler.shop.read import read_shop

    edit(folder, "products", 2, rh_max_pct="", steel_max_c="", loss_pct="")
    edit(folder, "products", 3, rh_max_pct="none")
    products = read_shop(folder).products
    assert (products[0].rh_max_pct, products[0].steel_max_c, products[0].loss_pct) == (85, None, 0)
    assert products[1].rh_max_pct is None


def test_an_empty_table_is_a_fault_only_where_rows_are_needed(folder: Path) -> None:
    """A shop without units plans nothing; a shop without stock is told what to order, and nothing about the empty table."""
    for table in ("lots", "opened"):
        (folder / f"{table}.csv").write_text((folder / f"{table}.csv").read_text().partition("\n")[0] + "\n")
    cures = [fault.cure for fault in faults_of(folder)]
    assert [cure.split(" of ")[1].split()[0] for cure in cures] == ["bonding-primer", "two-part-lining", "two-part-texture"]
    assert all(cure.startswith("order ") for cure in cures)
    (folder / "orders.csv").write_text((folder / "orders.csv").read_text().partition("\n")[0] + "\n")
    assert "the table has no rows" in faults_of(folder)[0].problem


def test_durations_in_tables_may_be_iso_8601(folder: Path) -> None:
    """A column in minutes and one in hours take the same duration."""
    from scheduler.shop.read import read_shop

    edit(folder, "methods", 4, dry_min="PT1H30M")
    edit_all(folder, "crew", respirator_h="PT5H30M")
    shop = read_shop(folder)
    assert shop.methods[2].dry_min == 90
    assert {person.respirator_h for person in shop.crew} == {5.5}


def test_moments_without_an_offset_stand_in_the_zone_of_the_site(folder: Path) -> None:
    """07:00 of the template is 11:00 UTC; with an offset the instant is the same and shown on the site's clock."""
    from scheduler.shop.read import read_shop

    edit(folder, "units", 2, available_from="2026-06-15T11:00Z")
    units = read_shop(folder).units
    assert units[0].available_from == units[1].available_from
    assert units[0].available_from.isoformat() == "2026-06-15T07:00:00-04:00"


def test_values_are_shown_on_one_line_of_bounded_length(folder: Path) -> None:
    """What stands in a cell cannot break a terminal or fill the screen."""
    edit(folder, "units", 2, unit_id="\x1b[2J" + "x" * 500)
    text = next(f for f in faults_of(folder) if f.file == "units.csv").text()
    assert "\x1b" not in text
    assert len(text) < 300
    assert table_of(folder, "units")[0]["unit_id"].startswith("\x1b")
