"""Files that are not what they should be: each gives one clear fault, and never a traceback."""

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from scheduler.shop.csv_table import read_csv
from shop.folder import faults_of, only_fault, place


def recode(encoding: str) -> Callable[[Path], None]:
    """Save the file in another encoding."""
    return lambda path: path.write_bytes(path.read_text("utf-8").encode(encoding))


def put(data: bytes) -> Callable[[Path], None]:
    """Overwrite the file."""
    return lambda path: path.write_bytes(data)


def replace(old: str, new: str) -> Callable[[Path], None]:
    """Replace some of its text."""
    return lambda path: path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")


def folder_instead(path: Path) -> None:
    """Put a folder in its place."""
    path.unlink()
    path.mkdir()


BROKEN: dict[str, tuple[Callable[[Path], None], int | None, str, str]] = {
    "missing": (Path.unlink, None, "no such file", "add the file"),
    "folder": (folder_instead, None, "this is a folder", "put a file there"),
    "zero bytes": (put(b""), None, "empty", "fill it in"),
    "blank": (put(b" \n\n"), None, "empty", "fill it in"),
    "utf-16 with mark": (recode("utf-16"), None, "UTF-16", "UTF-8"),
    "utf-16 without mark": (recode("utf-16-le"), None, "UTF-16", "UTF-8"),
    "latin-1": (lambda path: (replace("Ana", "Añá")(path), recode("latin-1")(path)), 2, "not in UTF-8", "UTF-8"),
    "nul": (replace("Dov,", "D\0ov,"), 5, "NUL", "save it again"),
    "semicolons": (replace(",", ";"), 1, "separated by semicolons", "commas"),
    "tabs": (replace(",", "\t"), 1, "separated by tabs", "commas"),
    "rows in quotes": (
        lambda path: path.write_text("".join(f'"{row}"\n' for row in path.read_text("utf-8").splitlines()), "utf-8"),
        1,
        "every row stands in double quotes",
        "take away",
    ),
    "two headers": (replace("shift_id,respirator_h", "shift_id,shift_id"), 1, "two columns have this name", "rename"),
    "open quote": (replace("Ben,", '"Ben,'), 3, "no valid CSV", "quote"),
    "too many cells": (replace("Cleo,", "Cleo,,"), 4, "6 cells where the header has 5", "with a point"),
    "too few cells": (replace("Cleo,", "Cleo "), 4, "4 cells where the header has 5", "missing commas"),
}


@pytest.mark.parametrize("case", BROKEN)
def test_a_broken_file_is_named_with_row_and_cure(folder: Path, case: str) -> None:
    """The first fault of the crew table says what is wrong with the file; none of it is about what was in it."""
    spoil, row, problem, cure = BROKEN[case]
    spoil(folder / "crew.csv")
    faults = [fault for fault in faults_of(folder) if fault.file == "crew.csv" and fault.row == row]
    assert problem in faults[0].problem
    assert cure in faults[0].cure


def test_a_byte_order_mark_windows_line_ends_and_blank_rows_are_no_fault(folder: Path) -> None:
    """What a spreadsheet writes by itself is read as it is meant."""
    text = (folder / "crew.csv").read_text("utf-8")
    (folder / "crew.csv").write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode() + b"\r\n,,,,\r\n\r\n")
    assert faults_of(folder) == ()


def test_a_row_is_the_line_on_which_it_starts(folder: Path) -> None:
    """Blank rows count, and a quoted cell over two lines does not shift the rows after it."""
    lines = (folder / "crew.csv").read_text("utf-8").splitlines()
    lines[1] = lines[1].replace("preparer attendant driver", '"preparer attendant\ndriver"')
    lines[3] = lines[3].replace("cleo,", "cleo!,")
    (folder / "crew.csv").write_text("\n".join([lines[0], "", *lines[1:]]), "utf-8")
    assert place(only_fault(folder)) == ("crew.csv", 6, "person_id")


def test_200_000_rows_are_refused_quickly_with_one_fault(folder: Path) -> None:
    """The limit is 100,000 rows; what is in them is not looked at."""
    (folder / "lots.csv").write_text("lot_id,product_id,packs,arrives_on,expires_on\n" + "!,!,!,!,!\n" * 200_000, "utf-8")
    started = time.perf_counter()
    fault = next(fault for fault in faults_of(folder) if fault.file == "lots.csv")
    assert time.perf_counter() - started < 5
    assert "more than 100,000 rows" in fault.problem
    assert [f.file for f in faults_of(folder)] == ["lots.csv"]


def test_thousands_of_wrong_cells_are_listed_up_to_a_thousand(folder: Path) -> None:
    """A column pasted in the wrong place does not flood the screen."""
    (folder / "lots.csv").write_text("lot_id,product_id,packs,arrives_on,expires_on\n" + "!,!,!,!,!\n" * 20_000, "utf-8")
    faults = [fault for fault in faults_of(folder) if fault.file == "lots.csv"]
    assert 1000 < len(faults) <= 2 * 1001  # of the cells, and of one id said again and again
    assert any("more than 1,000 faults" in fault.problem for fault in faults)


def test_an_unreadable_file_is_a_fault(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Permissions are reported, not raised (the test may run as a user whom no permission stops)."""

    def refuse(path: Path) -> bytes:
        raise PermissionError(13, os.strerror(13), str(path))

    monkeypatch.setattr(Path, "read_bytes", refuse)
    (fault,) = read_csv(folder / "crew.csv").faults
    assert "Permission denied" in fault.problem


@pytest.mark.parametrize(
    ("kind", "problem"), [("missing", "no such folder"), ("file", "this is a file"), ("empty", "holds no shop")]
)
def test_what_is_no_shop_folder_is_refused(tmp_path: Path, kind: str, problem: str) -> None:
    """A folder that is not there, a file, and a folder without any table: one fault, not one for each table."""
    path = tmp_path / "shop"
    if kind == "file":
        path.write_text("x")
    elif kind == "empty":
        path.mkdir()
    (fault,) = faults_of(path)
    assert problem in fault.problem


@pytest.mark.parametrize(("name", "wanted"), [("closure.csv", "closures.csv"), ("Pinned.CSV", "pinned.csv")])
def test_an_optional_table_with_a_wrong_name_is_not_silently_left_out(folder: Path, name: str, wanted: str) -> None:
    """A holiday that nobody sees because of a typing slip would be worse than a fault."""
    (folder / wanted).rename(folder / name)
    fault = only_fault(folder)
    assert fault.file == wanted
    assert f"rename {name} to {wanted}" in fault.cure


def test_optional_tables_may_be_absent_and_other_files_may_lie_about(folder: Path) -> None:
    """No closures, nothing opened, pinned or done; a file of notes is nobody's business."""
    for table in ("closures", "opened", "pinned", "done"):
        (folder / f"{table}.csv").unlink()
    (folder / "notes.csv").write_text("a;b\n", "utf-8")
    assert faults_of(folder) == ()
