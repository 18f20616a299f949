"""coatrun many: each shop as coatrun plan would do it, failures apart, one exit code."""

import json
from pathlib import Path
from shutil import copytree

import pytest

from cli.conftest import Planned, Run
from scheduler.cli.exit_codes import ExitCode
from scheduler.many import Answer, End
from scheduler.many.backend import Serial

QUICK = ("--moves", "5", "--workers", "1")


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plan in this process: that several give the same is proven in the tests of the backends."""
    monkeypatch.setattr("scheduler.cli.planning_many.Processes", lambda _jobs: Serial())


@pytest.mark.usefixtures("here")
def test_each_shop_has_the_report_that_plan_makes(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Two folders, two reports with the schedule of a run on its own, a line for each."""
    copytree(planned.shop, tmp_path / "second")
    result = run("many", planned.shop, tmp_path / "second", "--out", tmp_path / "many", *QUICK)
    assert result.exit_code == ExitCode.DONE, result.stderr
    alone = json.loads(planned.schedule.read_text(encoding="utf-8"))
    for name in ("shop", "second"):
        made = json.loads((tmp_path / "many" / name / "schedule.json").read_text(encoding="utf-8"))
        assert {k: v for k, v in made.items() if k != "provenance"} == {k: v for k, v in alone.items() if k != "provenance"}
        assert (tmp_path / "many" / name / "index.html").is_file()
        assert f"planned, {tmp_path / 'many' / name}" in result.stderr


@pytest.mark.usefixtures("here")
def test_a_broken_folder_is_told_and_the_other_planned(planned: Planned, run: Run, tmp_path: Path) -> None:
    """The faults are told as coatrun check tells them; the exit code is that of the folder with the faults."""
    copytree(planned.shop, tmp_path / "broken")
    (tmp_path / "broken" / "units.csv").write_bytes(b"")
    result = run("many", tmp_path / "broken", planned.shop, "--out", tmp_path / "many", "--json", *QUICK)
    answer = json.loads(result.stdout)
    assert result.exit_code == answer["exit_code"] == ExitCode.BAD_INPUT
    assert [(row["ended"], row["exit_code"]) for row in answer["shops"]] == [("bad input", 3), ("planned", 0)]
    assert any(fault["file"] == "units.csv" for fault in answer["shops"][0]["faults"])
    assert "units.csv" in result.stderr
    assert (tmp_path / "many" / "shop" / "schedule.json").is_file()


def test_two_shops_of_one_name_are_refused_before_the_search(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Neither would know whose report it is."""
    copytree(planned.shop, tmp_path / "other" / "shop")
    result = run("many", planned.shop, tmp_path / "other" / "shop", "--out", tmp_path / "many")
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "the same report" in result.stderr


def test_a_folder_that_holds_no_report_is_refused_before_the_search(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Nothing of others is overwritten."""
    (tmp_path / "many" / "shop").mkdir(parents=True)
    (tmp_path / "many" / "shop" / "letter.txt").write_text("mine", encoding="utf-8")
    result = run("many", planned.shop, "--out", tmp_path / "many")
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "holds no report" in result.stderr


def test_without_the_extra_its_name_is_told(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """No traceback, but what to install."""
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    result = run("many", planned.shop, "--cluster", "tcp://127.0.0.1:9", "--out", tmp_path / "many")
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "coatrun[cluster]" in result.stderr


def test_a_process_that_died_is_told(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """It is a fault of the program or its machine, not of the input."""

    class Dying:
        def answers(self, jobs: list[object]) -> list[tuple[int, Answer]]:
            return [(0, Answer("shop", End.LOST, "the process has died"))]

    monkeypatch.setattr("scheduler.cli.planning_many.Processes", lambda _jobs: Dying())
    result = run("many", planned.shop, "--out", tmp_path / "many")
    assert result.exit_code == ExitCode.INTERNAL
    assert "the process has died" in result.stderr
    assert "lost" in result.stdout
