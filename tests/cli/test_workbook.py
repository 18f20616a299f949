"""A workbook wherever a shop folder can stand."""

import json
from pathlib import Path
from typing import Any

import pytest

from cli.conftest import Planned, Run
from cli.test_replan import lose_bay
from scheduler.cli.exit_codes import ExitCode
from scheduler.shop.read import read_shop
from scheduler.shop.workbook.write import write_workbook


@pytest.fixture
def book(planned: Planned, tmp_path: Path) -> Path:
    """The planned shop as a workbook."""
    write_workbook(read_shop(planned.shop), tmp_path / "yard.xlsx")
    return tmp_path / "yard.xlsx"


@pytest.mark.parametrize("args", [("shop", "--workbook"), ("shop.xlsx",), ("shop.xlsx", "--workbook")])
def test_new_writes_a_workbook_that_has_no_faults(run: Run, tmp_path: Path, args: tuple[str, ...]) -> None:
    """Prove that it is asked for by the option or by the name alone, and never written over."""
    result = run("new", tmp_path / args[0], *args[1:])
    assert result.stdout.strip() == str(tmp_path / "shop.xlsx")
    assert run("check", tmp_path / "shop.xlsx").exit_code == ExitCode.DONE
    assert run("new", tmp_path / args[0], *args[1:]).exit_code == ExitCode.BAD_INPUT


def test_there_and_back(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that a folder comes back byte for byte, and that nothing is written over."""
    answer = json.loads(run("convert", planned.shop, tmp_path / "a.xlsx", "--json").stdout)
    assert answer["files"] == ["a.xlsx"]
    assert run("convert", tmp_path / "a.xlsx", tmp_path / "back").exit_code == ExitCode.DONE
    for file in planned.shop.iterdir():
        assert file.read_bytes() == (tmp_path / "back" / file.name).read_bytes()
    assert run("convert", tmp_path / "a.xlsx", tmp_path / "back").exit_code == ExitCode.BAD_INPUT
    assert run("convert", planned.shop, tmp_path / "a.xlsx").exit_code == ExitCode.BAD_INPUT


def test_a_shop_with_faults_is_not_converted(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that what cannot be read whole is not written in part."""
    (planned.shop / "bays.csv").unlink()
    assert run("convert", planned.shop, tmp_path / "a.xlsx").exit_code == ExitCode.BAD_INPUT
    assert not (tmp_path / "a.xlsx").exists()


def test_planned_from_a_workbook(run: Run, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that plan, check, day and dates take a workbook, and that the report has its name."""
    monkeypatch.chdir(tmp_path)
    assert run("plan", book, "--moves", 5, "--workers", 1).exit_code == ExitCode.DONE
    assert (tmp_path / "reports" / "yard" / "schedule.json").is_file()
    assert run("check", book, "--schedule", tmp_path / "reports" / "yard").exit_code == ExitCode.DONE
    assert run("day", tmp_path / "reports" / "yard").exit_code == ExitCode.DONE
    assert run("dates", book).exit_code == ExitCode.DONE
    assert "changed since" not in run("day", book).stderr


def test_a_schedule_of_a_folder_holds_for_its_workbook(planned: Planned, run: Run, book: Path) -> None:
    """Prove that both are the same input: the fingerprint does not ask where the tables stand."""
    answer = json.loads(run("check", book, "--schedule", planned.schedule, "--json").stdout)
    assert answer["schedule"]["made_from_this_input"]


def test_faults_of_a_workbook_are_told_by_sheet(run: Run, book: Path) -> None:
    """Prove it for a person and for a machine."""
    from openpyxl import load_workbook

    sheets = load_workbook(book)
    sheets["surfaces"]["C2"] = "nan"
    sheets["surfaces"]["C3"] = -4
    sheets.save(book)
    result = run("check", book)
    assert "2 faults in yard.xlsx" in result.stdout
    assert "surfaces  2" in result.stdout
    (fault, _) = json.loads(run("check", book, "--json").stdout)["faults"]
    assert (fault["file"], fault["sheet"], fault["row"], fault["column"]) == ("yard.xlsx", "surfaces", 2, "area_m2")


@pytest.mark.parametrize("command", ["check", "plan", "dates", "day"])
def test_a_workbook_that_is_not_there_or_none(run: Run, tmp_path: Path, command: str) -> None:
    """Prove that every command answers with a line that names it."""
    (tmp_path / "bad.xlsx").write_bytes(b"PK\x03\x04 nothing")
    for name in ("none.xlsx", "bad.xlsx"):
        result = run(command, tmp_path / name)
        assert result.exit_code == ExitCode.BAD_INPUT
        assert name in result.stdout + result.stderr


def test_the_plan_is_handed_out_as_workbook_and_calendars(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that a run leaves both, that a second run says what changed and moves no entry that stays."""
    from openpyxl import load_workbook

    assert "changes" not in load_workbook(planned.report / "plan.xlsx").sheetnames
    calendars = {path.name: path.read_bytes() for path in (planned.report / "calendar").iterdir()}
    assert any(name.startswith("person-") for name in calendars)
    assert any(name.startswith("order-") for name in calendars)
    result = run("plan", planned.shop, "--out", planned.report, "--moves", 5, "--workers", 1, "--workbook", tmp_path / "w.xlsx")
    assert result.exit_code == ExitCode.DONE
    assert len(list(load_workbook(tmp_path / "w.xlsx")["changes"].rows)) == 1
    assert {path.name: path.read_bytes() for path in (planned.report / "calendar").iterdir()} == calendars
    assert run("plan", planned.shop, "--workbook", "plan.ods").exit_code == ExitCode.USAGE


def test_feed_writes_the_calendars_of_a_run(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that they are those of the run, and that a schedule that breaks a rule is not handed out."""
    answer = json.loads(run("feed", planned.report, "--out", tmp_path / "feeds", "--json").stdout)
    assert {Path(file).name for file in answer["files"]} == {path.name for path in (planned.report / "calendar").iterdir()}
    for path in (tmp_path / "feeds").iterdir():
        assert path.read_bytes() == (planned.report / "calendar" / path.name).read_bytes()
    schedule = json.loads(planned.schedule.read_text("utf-8"))
    schedule["work"] = schedule["work"][1:]
    planned.schedule.write_text(json.dumps(schedule), "utf-8")
    result = run("feed", planned.report, "--out", tmp_path / "none")
    assert result.exit_code == ExitCode.REFUSED
    assert not (tmp_path / "none").exists()


def calendar(path: Path) -> dict[str, Any]:
    """Entries of a file by their UID."""
    from icalendar import Calendar

    return {str(event["UID"]): event for event in Calendar.from_ical(path.read_bytes()).walk("VEVENT")}


def test_a_choice_taken_is_handed_out_too(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that the calendars of a new folder follow on from those of the plan told, and that the workbook says what changed."""
    from openpyxl import load_workbook

    lose_bay(planned)
    out = tmp_path / "now"
    args = ("--told", planned.report, "--now", "2026-03-02T06:00", "--take", "few", "--out", out, "--moves", 5)
    assert run("replan", planned.shop, *args).exit_code == ExitCode.DONE
    changed = [row[1] for row in load_workbook(out / "plan.xlsx")["changes"].iter_rows(min_row=2, values_only=True)]
    assert any(str(name).endswith("/coat-1") for name in changed)
    moved = 0
    for path in (planned.report / "calendar").iterdir():
        before, after = calendar(path), calendar(out / "calendar" / path.name)
        assert before.keys() <= after.keys()
        for uid, event in before.items():
            same = event.decoded("DTSTART") == after[uid].decoded("DTSTART") and event["STATUS"] == after[uid]["STATUS"]
            moved += not same
            assert int(after[uid]["SEQUENCE"]) >= int(event["SEQUENCE"]) + (not same)
    assert moved
