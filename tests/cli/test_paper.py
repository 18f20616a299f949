"""coatrun paper and coatrun day --pdf: sheets as PDF from a saved schedule."""

import io
import json
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from cli.conftest import Planned, Run
from cli.test_check import moved_coat
from scheduler.cli.exit_codes import ExitCode
from scheduler.schedule.store import read_schedule


def pages(path: Path) -> list[str]:
    """Text of each page."""
    return [page.extract_text() for page in PdfReader(io.BytesIO(path.read_bytes())).pages]


def test_a_day_is_written_beside_the_schedule(planned: Planned, run: Run) -> None:
    """Prove that the sheet of the first day lies in the folder of the run and holds what the text holds."""
    result = run("day", planned.report, "--pdf")
    assert result.exit_code == ExitCode.DONE
    (path,) = planned.report.glob("day-*.pdf")
    assert path.name in result.stderr
    assert "day sheet" in pages(path)[0]


def test_one_person_has_a_sheet_of_their_own(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that only the person's work is on it, on paper and in text, and that --out names the file."""
    first = min(read_schedule(planned.schedule).work, key=lambda work: work.start)
    who = first.people[0].person_id
    assert run("day", planned.report, "--person", who, "--pdf", "--out", tmp_path / "own.pdf").exit_code == ExitCode.DONE
    assert "work from" in pages(tmp_path / "own.pdf")[0]
    text = run("day", planned.report, "--person", who).stdout
    assert "you: " in text
    assert "Load into the warmers" not in text


def test_a_person_that_is_none(planned: Planned, run: Run) -> None:
    """Prove that the answer names who there is."""
    result = run("day", planned.report, "--person", "nobody")
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "the crew has no such person_id; it has" in result.stderr


def test_a_plan_is_written_as_pdf(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that there is an overview, and a sheet for every day on which something is done."""
    result = run("paper", planned.report, "--out", tmp_path / "print", "--json")
    assert result.exit_code == ExitCode.DONE
    files = [Path(name) for name in json.loads(result.stdout)["files"]]
    days = {path.name.removesuffix(".html") for path in planned.report.glob("day-*.html")}
    assert {path.stem for path in files} == {"plan", *days}
    assert all(pages(path) for path in files)


def test_a_schedule_that_breaks_a_rule_is_not_printed(planned: Planned, run: Run) -> None:
    """Prove that no paper is made of a schedule that the check refuses, of the plan or of a day."""
    moved_coat(planned, -2)
    assert run("paper", planned.report).exit_code == ExitCode.REFUSED
    assert run("day", planned.report, "--pdf").exit_code == ExitCode.REFUSED
    assert not list(planned.report.glob("*.pdf"))


@pytest.mark.parametrize("command", [("paper",), ("day", "--pdf")], ids=["paper", "day"])
def test_without_the_extra_the_way_to_it_is_told(
    planned: Planned, run: Run, command: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Prove that a missing library is no traceback."""
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    result = run(command[0], planned.report, *command[1:])
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "pip install 'coatrun[pdf]'" in result.stderr
