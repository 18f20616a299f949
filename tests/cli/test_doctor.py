"""coatrun doctor and coatrun completion: what surrounds the program."""

import builtins
import json
import os
import subprocess
import sys
from pathlib import Path
from shutil import which
from typing import Any

import pytest

from cli.conftest import Run
from scheduler.cli import doctor_checks
from scheduler.cli.exit_codes import ExitCode

ROOT = Path(__file__).parents[2]


def test_doctor_tries_what_planning_needs(run: Run) -> None:
    """Prove that the solver solved, and that every finding says something."""
    answer = json.loads(run("doctor", "--json").stdout)
    assert answer["ok"]
    found = {finding["name"]: finding for finding in answer["findings"]}
    assert found["solver"]["says"].endswith("solves")
    assert {"PDF", "fonts", "zone database", "demo", "terminal"} <= set(found)
    assert all(finding["says"] for finding in answer["findings"])
    assert "solver" in run("doctor").stdout


def missing(monkeypatch: pytest.MonkeyPatch, library: str) -> None:
    """Let the import of a library fail."""
    real = builtins.__import__

    def refuse(name: str, *args: Any, **kwargs: Any) -> Any:
        if name.partition(".")[0] == library:
            msg = f"No module named {library!r}"
            raise ModuleNotFoundError(msg)
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", refuse)


@pytest.mark.parametrize(
    ("library", "name", "code"), [("ortools", "solver", ExitCode.INTERNAL), ("weasyprint", "PDF", ExitCode.DONE)]
)
def test_what_is_missing_is_said_with_its_cure(
    run: Run, monkeypatch: pytest.MonkeyPatch, library: str, name: str, code: ExitCode
) -> None:
    """Prove that a library that planning needs is an error, and an optional one is not."""
    missing(monkeypatch, library)
    result = run("doctor", "--json")
    assert result.exit_code == code
    finding = next(f for f in json.loads(result.stdout)["findings"] if f["name"] == name)
    assert not finding["ok"]
    assert "pip install" in finding["says"]


def test_fonts_are_told_by_script(monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that a script without letters is named, and that no Latin font at all is a fault."""
    monkeypatch.setattr(doctor_checks, "_families", lambda language: ["DejaVu Sans"] if language in {"de", "ru"} else [])
    assert doctor_checks._fonts().startswith("letters of Latin, Cyrillic; none of Greek")
    monkeypatch.setattr(doctor_checks, "_families", lambda _: [])
    with pytest.raises(RuntimeError, match="Latin"):
        doctor_checks._fonts()


def test_reports_that_cannot_be_written_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that it is known before a search of minutes."""
    monkeypatch.setattr(os, "access", lambda *_: False)
    finding = next(f for f in doctor_checks.findings() if f.name == "reports")
    assert "--out" in finding.says


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_prints_a_script(run: Run, shell: str) -> None:
    """Prove that each shell gets a script that asks coatrun."""
    answer = json.loads(run("completion", shell, "--json").stdout)
    assert answer["shell"] == shell
    assert "_COATRUN_COMPLETE" in answer["script"]


@pytest.mark.skipif(which("bash") is None, reason="no bash in the path")
def test_bash_takes_the_script_and_coatrun_completes(run: Run, tmp_path: Path) -> None:
    """Prove that bash can read it, and what a person gets for pl and the tab key."""
    (tmp_path / "script").write_text(run("completion", "bash").stdout)
    subprocess.run(["bash", "-n", tmp_path / "script"], check=True)
    env = os.environ | {"_COATRUN_COMPLETE": "bash_complete", "COMP_WORDS": "coatrun pl", "COMP_CWORD": "1"}
    code = "from scheduler.cli.app import app; app(prog_name='coatrun')"
    done = subprocess.run([sys.executable, "-c", code], env=env, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.stdout.split() == ["plain,plan"]
