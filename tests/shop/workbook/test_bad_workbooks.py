"""Workbooks that are broken, traps or filled in wrongly: a clear fault, and never a traceback."""

import re
import zipfile
from collections.abc import Callable
from pathlib import Path
from shutil import copyfile

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.shop.workbook import archive
from shop.test_cells import CELLS
from shop.workbook.sheets import change, faults_of, put

DOCTYPE = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><x>&b;</x>'
FILES = Path("/etc/passwd").as_uri()
STRINGS = "xl/sharedStrings.xml"


def rezip(path: Path, name: str, data: bytes, *, drop: bool = False) -> None:
    """Put a part into the archive in place of one of that name, or drop it."""
    with zipfile.ZipFile(path) as old:
        parts = {member.filename: old.read(member) for member in old.infolist()}
    parts.pop(name, None)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for part, content in ({} if drop else parts | {name: data}).items():
            new.writestr(part, content)


def _strings(data: bytes) -> Callable[[Path], None]:
    return lambda path: rezip(path, STRINGS, data)


def _bytes(change_it: Callable[[bytes], bytes]) -> Callable[[Path], object]:
    return lambda path: path.write_bytes(change_it(path.read_bytes()))


def _lie_about_sizes(data: bytes) -> bytes:
    """Declare every part to be ten bytes long."""
    return re.sub(rb"(PK\x01\x02.{20})(.{4})", lambda m: m[1] + (10).to_bytes(4, "little"), data, flags=re.DOTALL)


BROKEN: dict[str, tuple[Callable[[Path], object], str]] = {
    "missing": (Path.unlink, "there is no such file"),
    "no bytes": (_bytes(lambda _: b""), "empty"),
    "text": (_bytes(lambda _: b"order_id,customer\n"), "damaged or is none"),
    "cut off": (_bytes(lambda data: data[: len(data) // 2]), "damaged or is none"),
    "a password, or the older form": (_bytes(lambda _: b"\xd0\xcf\x11\xe0" + bytes(600)), "password or the older form"),
    "an archive of something else": (lambda path: rezip(path, "x", b"", drop=True), "no workbook"),
    "entities": (_strings(DOCTYPE), "defines XML entities"),
    "entities in UTF-16": (_strings(DOCTYPE.decode().encode("utf-16")), "defines XML entities"),
    "an entity that is a file": (
        _strings(f'<!DOCTYPE x [<!ENTITY a SYSTEM "{FILES}">]><x>&a;</x>'.encode()),
        "defines XML entities",
    ),
    "no XML": (_strings(b"<sst><si>"), "sheet"),
    "a part that climbs out": (lambda path: rezip(path, "../../evil.xml", b"<x/>"), "outside"),
    "a part with an absolute name": (lambda path: rezip(path, "/etc/evil.xml", b"<x/>"), "outside"),
    "sizes that are lies": (_bytes(_lie_about_sizes), "damaged"),
}


@pytest.mark.parametrize("case", BROKEN)
def test_a_broken_workbook_is_one_clear_fault(book: Path, case: str) -> None:
    """What is wrong, with a cure; nothing of the file reaches a person."""
    spoil, problem = BROKEN[case]
    spoil(book)
    faults = faults_of(book)
    assert len(faults) == 1 or case == "no XML"
    assert problem in faults[0].text()
    assert faults[0].cure
    assert "root:" not in faults[0].text()


def test_a_bomb_is_refused_by_the_size_that_it_declares(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A small file that unpacks to more than the limit is not unpacked at all."""
    rezip(book, "xl/media/image1.png", bytes(3_000_000))
    assert faults_of(book) == ()
    monkeypatch.setattr(archive, "LARGEST_UNPACKED", 2_000_000)
    monkeypatch.setattr(zipfile.ZipFile, "open", lambda *_: pytest.fail("unpacked"))
    (fault,) = faults_of(book)
    assert "unpacks to more than 2 MB" in fault.problem


def test_a_bomb_is_refused_while_it_streams(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The sum is taken of what really comes out, whatever the sizes in the archive add up to."""
    rezip(book, "xl/media/image1.png", bytes(3_000_000))
    monkeypatch.setattr(archive, "LARGEST_UNPACKED", 2_000_000)
    monkeypatch.setattr(archive, "_look_at_names", lambda *_: None)
    (fault,) = faults_of(book)
    assert "unpacks to more than 2 MB" in fault.problem


SHEET = (
    b'<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>%s</sheetData>'
    b"</worksheet>"
)
CELLS_THAT_CANNOT_BE = {
    "a row beyond all rows": (b'<row r="1000000000000"><c><v>1</v></c></row>', "more than 1,048,576 rows"),
    "the last cell of all": (b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>', "more than 500 columns"),
    "a word that is not there": (b'<row><c t="s"><v>-99999</v></c></row>', "damaged"),
    "no row number": (b'<row r="x"><c><v>1</v></c></row>', "damaged"),
    "a date outside the calendar": (b'<row><c s="3"><v>1e300</v></c></row>', ""),
}


@pytest.mark.parametrize("case", CELLS_THAT_CANNOT_BE)
def test_cells_that_cannot_be_are_faults_of_their_sheet(book: Path, case: str) -> None:
    """Written by no spreadsheet program: an answer in no time, and the other sheets are read."""
    row, problem = CELLS_THAT_CANNOT_BE[case]
    rezip(book, "xl/worksheets/sheet3.xml", SHEET % row)
    fault = next(f for f in faults_of(book) if f.sheet == "units")
    assert problem in fault.problem


def test_a_file_beyond_the_limit_is_not_even_read(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that its size is looked at before its bytes."""
    monkeypatch.setattr(archive, "LARGEST_FILE", 1_000)
    monkeypatch.setattr(Path, "read_bytes", lambda _: pytest.fail("read"))
    assert "the file is larger than" in faults_of(book)[0].problem


@pytest.mark.parametrize(
    ("table", "row", "column", "value", "problem", "cure"), [case for case in CELLS if case[3] not in {"\tx"}][::2]
)
def test_a_wrong_cell_is_told_as_in_a_folder(
    book: Path, table: str, row: int, column: str, value: str, problem: str, cure: str
) -> None:
    """Same problem and cure, with the workbook as file and the table as sheet."""
    put(book, table, row, **{column: value or None})
    fault = next(f for f in faults_of(book) if f.sheet == table)
    assert (fault.file, fault.row, fault.column, fault.value) == ("shop.xlsx", row, column, value or None)
    assert problem in fault.problem
    assert cure in fault.cure
    assert f"shop.xlsx, sheet {table}, row {row}, column {column}" in fault.text()


def test_faults_of_several_sheets_come_in_one_pass_and_speak_of_sheets(book: Path) -> None:
    """Settings, cells, duplicate ids, unknown ids and a table that is missing, none of them said to be in a file."""
    put(book, "surfaces", 2, system_id="S9")
    put(book, "units", 3, unit_id="H1")
    change(book, lambda sheets: sheets.remove(sheets["shifts"]))  # type: ignore[attr-defined]
    change(book, lambda sheets: setattr(sheets["site"]["B2"], "value", None))  # type: ignore[index]
    faults = faults_of(book)
    assert faults[0].sheet == "site"
    assert {"units", "surfaces", "shifts"} <= {f.sheet for f in faults}
    texts = [f.text() for f in faults]
    assert any("there is no such sheet. Cure: add the sheet." in text for text in texts)
    assert any("not in sheet coating_systems" in text for text in texts)
    assert not [text for text in texts if ".csv" in text or ".toml" in text]


@pytest.mark.parametrize(("name", "wanted"), [("closure", "closures"), ("Pined", "pinned")])
def test_a_sheet_with_a_slip_in_its_name_is_not_left_out(book: Path, name: str, wanted: str) -> None:
    """A holiday that nobody sees because of a typing slip would be worse than a fault."""
    change(book, lambda sheets: setattr(sheets[wanted], "title", name))  # type: ignore[index]
    (fault,) = faults_of(book)
    assert fault.sheet == wanted
    assert f"rename sheet {name} to sheet {wanted}" in fault.cure


def test_other_sheets_may_lie_about_and_optional_ones_may_be_absent(book: Path) -> None:
    """Notes of the planner are nobody's business."""
    change(book, lambda sheets: sheets.create_sheet("my notes"))  # type: ignore[attr-defined]
    for sheet in ("closures", "opened", "pinned", "done"):
        change(book, lambda sheets, sheet=sheet: sheets.remove(sheets[sheet]))  # type: ignore[misc, attr-defined, index]
    assert faults_of(book) == ()


def test_merged_cells_are_told_as_such(book: Path) -> None:
    """A block within the table is named before the cells that it leaves empty; one beside the table harms nobody."""
    change(book, lambda b: b["units"].merge_cells("A2:A3"))
    first = faults_of(book)[0]
    assert (first.sheet, first.row, first.column, first.value) == ("units", 2, "A", "A2:A3")
    assert "unmerge" in first.cure
    change(book, lambda b: b["units"].unmerge_cells("A2:A3"))
    put(book, "units", 3, unit_id="H2")
    change(book, lambda b: b["units"].merge_cells("Z2:AA3"))
    assert faults_of(book) == ()


def test_a_value_beside_the_table_is_told_with_its_place(book: Path) -> None:
    """A number in a column without a head would be lost in silence."""
    change(book, lambda sheets: setattr(sheets["crew"]["H3"], "value", 7))  # type: ignore[index]
    (fault,) = faults_of(book)
    assert (fault.sheet, fault.row, fault.column, fault.value) == ("crew", 3, "H", "7")
    assert "outside the table" in fault.problem


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_bytes_anywhere(original: Path, tmp_path: Path, data: st.DataObject) -> None:
    """A few bytes of the archive are overwritten with any others: the answer is a shop or faults."""
    path = Path(copyfile(original, tmp_path / "copy.xlsx"))
    content = bytearray(path.read_bytes())
    at = data.draw(st.integers(0, len(content)))
    content[at : at + data.draw(st.integers(0, 3))] = data.draw(st.binary(max_size=4))
    path.write_bytes(bytes(content))
    assert all(fault.cure and fault.text().isprintable() for fault in faults_of(path))
