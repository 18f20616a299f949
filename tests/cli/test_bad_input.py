"""Input that must get a clear answer and exit code 3, never a traceback."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cli.conftest import Planned, Run
from scheduler.cli.exit_codes import ExitCode

Spoil = Callable[[Path], object]


def _edit(file: str, change: Callable[[str], str]) -> Spoil:
    return lambda shop: (shop / file).write_text(change((shop / file).read_text("utf-8")), "utf-8")


def _cell(value: str) -> Callable[[str], str]:
    """Put a value into the column area_m2 of the first row."""

    def change(text: str) -> str:
        header, first, rest = text.split("\n", 2)
        cells = dict(zip(header.split(","), first.split(","), strict=True)) | {"area_m2": value}
        return "\n".join([header, ",".join(cells.values()), rest])

    return change


def _again(text: str) -> str:
    """Say the first row twice: two rows with one id."""
    header, first, rest = text.split("\n", 2)
    return "\n".join([header, first, first, rest])


def _many(text: str) -> str:
    header, first, _ = text.split("\n", 2)
    return "\n".join([header, *[first] * 200_000])


def _utf_16(shop: Path) -> None:
    (shop / "crew.csv").write_text((shop / "crew.csv").read_text("utf-8"), "utf-16")


def _folder_for_table(shop: Path) -> None:
    (shop / "bays.csv").unlink()
    (shop / "bays.csv").mkdir()


SPOILT: dict[str, tuple[str, Spoil, str]] = {
    "a table of no bytes": ("units.csv", lambda shop: (shop / "units.csv").write_bytes(b""), "empty"),
    "UTF-16": ("crew.csv", _utf_16, "UTF-16"),
    "semicolons": ("bays.csv", _edit("bays.csv", lambda text: text.replace(",", ";")), "semicolons"),
    "200,000 rows": ("lots.csv", _edit("lots.csv", _many), "more than 100,000 rows"),
    "nan": ("surfaces.csv", _edit("surfaces.csv", _cell("nan")), "area_m2"),
    "inf": ("surfaces.csv", _edit("surfaces.csv", _cell("inf")), "area_m2"),
    "a negative area": ("surfaces.csv", _edit("surfaces.csv", _cell("-1")), "area_m2"),
    "two orders with one id": ("orders.csv", _edit("orders.csv", _again), "O1"),
    "a table that is missing": ("bays.csv", lambda shop: (shop / "bays.csv").unlink(), "no such file"),
    "settings that are no TOML": ("site.toml", lambda shop: (shop / "site.toml").write_text("name = ", "utf-8"), "site.toml"),
    "no settings": ("site.toml", lambda shop: (shop / "site.toml").unlink(), "site.toml"),
    "NUL bytes": ("units.csv", lambda shop: (shop / "units.csv").write_bytes(b"unit_id\0,order_id\n"), "units.csv"),
    "a folder in place of a table": ("bays.csv", _folder_for_table, "bays.csv"),
    "no weather": ("weather.csv", _edit("weather.csv", lambda text: text.split("\n")[0] + "\n"), "weather"),
}


@pytest.mark.parametrize("what", SPOILT)
def test_a_spoilt_table_is_named(planned: Planned, run: Run, what: str) -> None:
    """Prove that the fault is found, that its file is named, that it has a cure, and that check and plan agree."""
    file, spoil, word = SPOILT[what]
    spoil(planned.shop)
    answer = json.loads(run("check", planned.shop, "--json").stdout)
    assert answer["exit_code"] == ExitCode.BAD_INPUT
    texts = [" ".join(str(part) for part in fault.values()) for fault in answer["faults"] if fault["file"] == file]
    assert any(word.casefold() in text.casefold() for text in texts), answer["faults"][:5]
    assert all(fault["cure"] for fault in answer["faults"])
    result = run("plan", planned.shop, "--out", planned.report.parent / "new")
    assert result.exit_code == ExitCode.BAD_INPUT
    assert file in result.stderr
    assert not (planned.report.parent / "new").exists()


@pytest.mark.parametrize("command", ["check", "plan", "day", "dates", "holds", "replan", "material", "feed", "record"])
def test_a_place_that_is_not_there(run: Run, tmp_path: Path, command: str) -> None:
    """Prove that every command that reads names the missing place."""
    result = run(command, tmp_path / "nowhere")
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "nowhere" in result.stdout + result.stderr


@pytest.mark.parametrize("command", ["check", "plan", "dates", "day", "holds", "replan", "material", "feed", "record"])
def test_a_folder_that_holds_nothing(run: Run, tmp_path: Path, command: str) -> None:
    """Prove that an empty folder is neither a shop nor a run."""
    assert run(command, tmp_path).exit_code == ExitCode.BAD_INPUT


def test_a_folder_that_cannot_be_read(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that missing permissions are told as such; simulated, for whoever runs tests as root may read everything."""

    def refuse(_path: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "iterdir", refuse)
    result = run("check", planned.shop)
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "permission" in result.stdout.casefold()


def test_new_into_a_folder_with_something_in_it(planned: Planned, run: Run) -> None:
    """Prove that a shop is never written over another."""
    before = (planned.shop / "units.csv").read_bytes()
    assert run("new", planned.shop).exit_code == ExitCode.BAD_INPUT
    assert (planned.shop / "units.csv").read_bytes() == before


SCHEDULES: dict[str, Callable[[str], str]] = {
    "no bytes": lambda _: "",
    "no JSON": lambda text: text[:500],
    "another document": lambda _: "[]",
    "brackets without end": lambda _: "[" * 100_000,
    "another version": lambda text: text.replace('"schema_version": "2"', '"schema_version": "9"', 1),
    "no deliveries": lambda text: text.replace('"deliveries"', '"handed_over"', 1),
    "a moment without an offset": lambda text: text.replace("+01:00", ""),
    "a moment in another age": lambda text: text.replace('"delivered_at": "2026', '"delivered_at": "0001', 1),
}


@pytest.mark.parametrize("what", SCHEDULES)
@pytest.mark.parametrize("command", ["check", "day", "dates"])
def test_a_file_that_is_no_schedule(planned: Planned, run: Run, command: str, what: str) -> None:
    """Prove that each command that reads a schedule says which file it cannot use."""
    planned.schedule.write_text(SCHEDULES[what](planned.schedule.read_text("utf-8")), "utf-8")
    args = ("check", planned.shop, "--schedule", planned.schedule) if command == "check" else (command, planned.schedule)
    result = run(*args)
    assert result.exit_code == ExitCode.BAD_INPUT
    assert str(planned.schedule) in result.stderr


def test_a_number_that_is_none(planned: Planned, run: Run) -> None:
    """Prove that nan in a schedule is refused where it would reach paper."""
    text = planned.schedule.read_text("utf-8")
    assert '"area_m2": 0.0' in text
    planned.schedule.write_text(text.replace('"area_m2": 0.0', '"area_m2": NaN', 1), "utf-8")
    result = run("day", planned.report)
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "not a finite number" in result.stderr


def test_no_traceback_reaches_a_person(planned: Planned) -> None:
    """Prove it in a process of its own, with a terminal that knows no letters beyond ASCII."""
    (planned.shop / "orders.csv").write_bytes("order_id,customer\nO1,Stra\u00dfenmeisterei \u6e29\n".encode())
    env = os.environ | {"PYTHONIOENCODING": "ascii", "COLUMNS": "60"}
    args = [sys.executable, "-m", "scheduler.cli", "check", str(planned.shop)]
    done = subprocess.run(args, capture_output=True, env=env, cwd=Path(__file__).parents[2], check=False)
    assert done.returncode == ExitCode.BAD_INPUT
    assert b"Traceback" not in done.stdout + done.stderr
    assert b"orders.csv" in done.stdout
