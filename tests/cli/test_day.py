"""coatrun day: the foreman's sheet from a saved schedule."""

import json
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from cli.conftest import Planned, Run
from cli.test_check import moved_coat
from scheduler.cli.exit_codes import ExitCode
from scheduler.documents.cautions.cautions import RULE
from scheduler.schedule.store import read_schedule


def first_day(planned: Planned) -> str:
    """First local day of work: the zone of the random shop is the one its moments are written in."""
    return min(work.start for work in read_schedule(planned.schedule).work).date().isoformat()


def test_the_sheet_has_every_step_of_the_day(planned: Planned, run: Run) -> None:
    """Prove that each stretch of work of the first day is there with its clock time and people."""
    result = run("day", planned.report)
    assert result.exit_code == ExitCode.DONE
    schedule = read_schedule(planned.schedule)
    today = [w for w in schedule.work if w.start.date().isoformat() == first_day(planned)]
    assert today
    for work in today:
        assert f"{work.start:%H:%M} to " in result.stdout
        assert work.unit_id in result.stdout
    assert "Worker" in result.stdout


def test_cautions_and_limits_are_on_the_sheet(planned: Planned, run: Run) -> None:
    """Prove that no sheet sends people to spray without limits to measure and the cautions."""
    spray = next(w for w in read_schedule(planned.schedule).work if w.step == "coat")
    text = " ".join(run("day", planned.report, spray.start.date().isoformat()).stdout.split())
    assert RULE in text
    assert "measure first: steel temperature" in text
    assert "sensitised" in text


def test_cartridges_to_load_are_on_the_sheet_of_the_day_on_which_they_are_loaded(planned: Planned, run: Run) -> None:
    """Prove that tonight's load is on today's sheet, also where the coat is tomorrow's."""
    load = next(load for w in read_schedule(planned.schedule).work for load in w.loads)
    text = run("day", planned.report, load.loaded_at.date().isoformat()).stdout
    assert "Load into the warmers" in text
    assert f"{load.loaded_at:%H:%M}" in text.partition("Load into the warmers")[2]


def test_without_a_date_it_is_the_first_day_of_work(planned: Planned, run: Run) -> None:
    """Prove the default."""
    assert json.loads(run("day", planned.report, "--json").stdout)["day"] == first_day(planned)


@pytest.mark.parametrize("place", ["report", "schedule", "shop"])
def test_run_schedule_and_shop_folder_give_the_same_sheet(
    planned: Planned, run: Run, place: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Prove the three ways to say which schedule is meant; a shop folder stands for its run in ``reports``."""
    planned.report.rename(planned.report.with_name("shop"))
    moved = Planned(planned.shop, planned.report.with_name("shop"))
    monkeypatch.chdir(moved.shop.parent)
    assert run("day", getattr(moved, place)).stdout == run("day", moved.report).stdout


def test_json_has_work_loads_picks_and_cautions(planned: Planned, run: Run) -> None:
    """Prove the parts of the document, moments with their offset."""
    load = next(load for w in read_schedule(planned.schedule).work for load in w.loads)
    answer = json.loads(run("day", planned.report, load.loaded_at.date().isoformat(), "--json").stdout)
    assert answer["schema"] == "coatrun/day/1"
    assert answer["work"]
    assert answer["load"][0]["cartridges"] >= 1
    assert answer["pick"]
    assert answer["cautions"]["rule"] == RULE
    assert datetime.fromisoformat(answer["work"][0]["starts_at"]).utcoffset() == timedelta(hours=1)


def test_a_day_without_work(planned: Planned, run: Run) -> None:
    """Prove that a free day is an answer, and that it says when there is work."""
    result = run("day", planned.report, "2026-03-22")
    assert result.exit_code == ExitCode.DONE
    assert "No work on this day." in result.stdout
    assert f"from {first_day(planned)}" in result.stderr


def test_a_date_that_is_none(planned: Planned, run: Run) -> None:
    """Prove that 30 February is a slip in the command, not in the folder."""
    assert run("day", planned.report, "2026-02-30").exit_code == ExitCode.USAGE


def test_a_schedule_that_breaks_a_rule_is_shown_with_a_warning(planned: Planned, run: Run) -> None:
    """Prove that a sheet of a schedule changed by hand cannot be taken for a checked one."""
    moved_coat(planned, -2)
    result = run("day", planned.report)
    assert result.exit_code == ExitCode.REFUSED
    assert "Do not use this plan" in result.stdout.splitlines()[1]


def test_a_shop_that_has_gone_is_asked_for(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that without the shop there is no sheet, since limits and cautions come from it, and that --shop helps."""
    planned.shop.rename(tmp_path / "elsewhere")
    result = run("day", planned.report)
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "--shop" in result.stderr
    assert run("day", planned.report, "--shop", tmp_path / "elsewhere").exit_code == ExitCode.DONE


def test_a_schedule_alone_asks_for_its_shop(planned: Planned, run: Run, tmp_path: Path) -> None:
    """Prove that a schedule that was copied away does not guess."""
    copy = tmp_path / "copy.json"
    copy.write_bytes(planned.schedule.read_bytes())
    assert "--shop" in run("day", copy).stderr
