"""What nobody expected, and Ctrl-C: one line, a documented exit code, no traceback."""

import errno
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from cli.conftest import Planned, Run
from scheduler import pipeline
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import MOST_FAULTS, failure_of, fault_list
from scheduler.shop.faults import Fault

ROOT = Path(__file__).parents[2]


def _broken(*_args: object) -> None:
    msg = "the slot is out of range"
    raise IndexError(msg)


def test_the_unexpected_is_one_line_to_report(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that a fault of the program ends with 70, its kind and its place, and that JSON is still JSON."""
    monkeypatch.setattr(pipeline, "plan", _broken)
    result = run("plan", planned.shop, "--out", planned.report, "--json")
    assert result.exit_code == ExitCode.INTERNAL
    assert "IndexError in test_failures.py line" in result.stderr
    assert "the slot is out of range" in result.stderr
    assert "Traceback" not in result.stderr
    assert json.loads(result.stdout)["exit_code"] == ExitCode.INTERNAL


def test_whoever_repairs_it_sees_the_traceback(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that COATRUN_DEBUG=1 shows it."""
    monkeypatch.setattr(pipeline, "plan", _broken)
    monkeypatch.setenv("COATRUN_DEBUG", "1")
    assert "Traceback" in run("plan", planned.shop, "--out", planned.report).stderr


def test_a_disk_that_cannot_be_written_is_no_fault_of_the_program() -> None:
    """Prove that errors of the file system name the file, their reason and what helps; a full disk names no file."""
    failed = failure_of(PermissionError(errno.EACCES, "Permission denied", "reports/x"))
    assert failed.code is ExitCode.BAD_INPUT
    assert failed.says == "coatrun: reports/x: Permission denied; look at the permissions, or give another folder"
    full = failure_of(OSError(errno.ENOSPC, "No space left on device"))
    assert full.code is ExitCode.BAD_INPUT
    assert full.says.startswith("coatrun: No space left on device; make room")


def test_ctrl_c_outside_the_search() -> None:
    """Prove that a person who stops a command gets no traceback."""
    assert failure_of(KeyboardInterrupt()).code is ExitCode.INTERRUPTED


def test_a_flood_of_faults_is_cut_and_counted() -> None:
    """Prove that a thousand faults do not run away with the screen."""
    text = fault_list([Fault("a.csv", row, "b", "c", "wrong", "right") for row in range(1000)])
    assert text.startswith("1,000 faults")
    assert f"and {1000 - MOST_FAULTS} more" in text
    assert len(text.splitlines()) == MOST_FAULTS + 5


def test_ctrl_c_in_the_search_gives_the_best_so_far(planned: Planned) -> None:
    """Prove in a process of its own that one Ctrl-C in a long search leaves a checked report and exit code 0."""
    out = planned.report.parent / "stopped"
    args = [sys.executable, "-m", "scheduler.cli", "plan", str(planned.shop), "--out", str(out), "--moves", "10000000"]
    process = subprocess.Popen(args, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT, env=dict(os.environ))
    assert process.stderr is not None
    try:
        while not (line := process.stderr.readline()).startswith("searching"):
            assert line, "the command ended before it searched"
        process.send_signal(signal.SIGINT)
        stdout, stderr = process.communicate(timeout=120)
    finally:
        process.kill()
    assert process.returncode == ExitCode.DONE, stderr
    assert "rules hold" in stdout
    assert (out / "schedule.json").is_file()
