"""A run that is killed: the last checked schedule is on disk, whole."""

import json
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cli.conftest import Planned, Run
from scheduler import pipeline
from scheduler.check.breach import CheckReport
from scheduler.cli.exit_codes import ExitCode

ROOT = Path(__file__).parents[2]
QUICK = ("--moves", "5", "--workers", "1")


def unfinished(planned: Planned) -> Path:
    """The schedule that is kept while the search goes on."""
    return planned.report.with_name("run.unfinished") / "schedule.json"


@pytest.fixture
def killed(planned: Planned) -> Planned:
    """A run that was killed soon after its first schedule."""
    args = ("plan", str(planned.shop), "--out", str(planned.report), "--time-limit", "120", "--workers", "1")
    process = subprocess.Popen([sys.executable, "-m", "scheduler.cli", *args], cwd=ROOT, stderr=subprocess.DEVNULL)
    try:
        until = time.monotonic() + 60
        while not unfinished(planned).is_file() and process.poll() is None and time.monotonic() < until:
            time.sleep(0.01)
    finally:
        process.kill()
    assert process.wait() == -signal.SIGKILL
    return planned


def test_the_last_checked_schedule_is_on_disk_and_the_earlier_report_as_it_was(killed: Planned, run: Run) -> None:
    """It passes the checker, later commands read it, the earlier report is untouched, and the next run clears it away."""
    earlier = killed.schedule.read_bytes()
    assert run("check", killed.shop, "--schedule", unfinished(killed)).exit_code == ExitCode.DONE
    assert json.loads(unfinished(killed).read_text(encoding="utf-8"))["provenance"]["status"] in {"feasible", "optimal"}
    assert run("dates", unfinished(killed)).exit_code == ExitCode.DONE
    assert killed.schedule.read_bytes() == earlier
    assert run("plan", killed.shop, "--out", killed.report, *QUICK).exit_code == ExitCode.DONE
    assert not unfinished(killed).parent.exists()


def test_a_run_that_fails_after_its_first_schedule_says_where_that_is(
    planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault at the end does not lose what was checked before it."""
    real = pipeline.plan

    def plan(*args: object) -> None:
        real(*args)  # type: ignore[arg-type]
        raise pipeline.RefusedError(CheckReport(()))

    monkeypatch.setattr(pipeline, "plan", plan)
    result = run("plan", planned.shop, "--out", planned.report, *QUICK)
    assert result.exit_code == ExitCode.REFUSED
    assert str(unfinished(planned)) in result.stderr
    assert run("check", planned.shop, "--schedule", unfinished(planned)).exit_code == ExitCode.DONE


def test_a_folder_that_cannot_be_written_does_not_end_the_search(planned: Planned, run: Run) -> None:
    """The best so far is a courtesy: where it cannot be kept, that is said once and the report is made all the same."""
    unfinished(planned).parent.write_text("in the way", encoding="utf-8")
    result = run("plan", planned.shop, "--out", planned.report, *QUICK)
    assert result.exit_code == ExitCode.DONE
    assert result.stderr.count("cannot be kept") == 1
    assert unfinished(planned).parent.read_text(encoding="utf-8") == "in the way"


def test_nothing_refused_is_kept(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """A schedule that the checker refuses is not written beside the report either."""

    def refuse(*_args: object) -> None:
        raise pipeline.RefusedError(CheckReport(()))

    monkeypatch.setattr(pipeline, "checked", refuse)
    assert run("plan", planned.shop, "--out", planned.report, *QUICK).exit_code == ExitCode.REFUSED
    assert not unfinished(planned).parent.exists()


def test_what_a_run_had_half_written_when_it_was_killed_is_cleared_away_and_nothing_else(planned: Planned, run: Run) -> None:
    """Half a file of each kind goes with the folder; with a file of somebody else's in it the folder stays."""
    folder = unfinished(planned).parent
    for others in ((), ("notes.txt",)):
        folder.mkdir(exist_ok=True)
        for name in (".schedule.json.77.part", ".run.json.77.part", *others):
            (folder / name).write_text("{", encoding="utf-8")
        assert run("plan", planned.shop, "--out", planned.report, *QUICK).exit_code == ExitCode.DONE
        assert [path.name for path in folder.iterdir()] == list(others) if others else not folder.exists()
