"""coatrun plan: a report, a summary, what is replaced, and every way in which it can end."""

import json
from datetime import timedelta
from pathlib import Path

import pytest
from random_shop import random_shop

from cli.conftest import Planned, Run
from scheduler import pipeline
from scheduler.check.breach import Breach, CheckReport
from scheduler.cli.exit_codes import ExitCode
from scheduler.schedule.schedule import Status
from scheduler.search.outcome import Bounds, Outcome
from scheduler.shop.forecast_rows import TypicalHour
from scheduler.shop.write import write_shop

QUICK = ("--moves", "5", "--workers", "1")


def test_summary_has_dates_goals_and_the_way_to_the_report(planned: Planned, run: Run) -> None:
    """Prove that one screen answers: how good, when does each customer get its units, where is the rest."""
    result = run("plan", planned.shop, "--out", planned.report, *QUICK)
    assert result.exit_code == ExitCode.DONE
    made = json.loads(planned.schedule.read_text(encoding="utf-8"))
    for delivery in made["deliveries"]:
        assert f"\n{delivery['order_id']} " in result.stdout
        assert f" {delivery['customer']} " in result.stdout
    assert f"Status {made['provenance']['status']}: objective " in result.stdout
    assert "bound" in result.stdout
    assert "gap" in result.stdout
    assert "First schedule after" in result.stdout
    for name in ("index.html", "schedule.json", "dates.csv"):
        assert str(planned.report / name) in result.stdout
        assert (planned.report / name).is_file()


def test_talk_is_on_standard_error(planned: Planned, run: Run) -> None:
    """Prove that data and talk do not mix: what goes on is not in the data."""
    result = run("plan", planned.shop, "--out", planned.report, *QUICK)
    assert "searching" in result.stderr
    assert "searching" not in result.stdout


def test_json_is_one_document_that_agrees_with_the_schedule(planned: Planned, run: Run) -> None:
    """Prove that the JSON names its schema and says what the saved schedule says."""
    answer = json.loads(run("plan", planned.shop, "--out", planned.report, "--json", "--seed", "9", *QUICK).stdout)
    made = json.loads(planned.schedule.read_text(encoding="utf-8"))
    assert answer["schema"] == "coatrun/plan/1"
    assert answer["exit_code"] == 0
    assert answer["seed"] == made["provenance"]["seed"] == 9
    assert answer["input_hash"] == made["provenance"]["input_hash"]
    assert answer["goals"] == made["goals"]
    assert {row["order_id"] for row in answer["dates"]} == {row["order_id"] for row in made["deliveries"]}
    assert all(Path(file).is_file() for file in answer["files"])


def test_counted_moves_give_the_same_schedule_again(planned: Planned, run: Run) -> None:
    """Prove that seed and moves repeat a run, clock or no clock."""
    schedules = []
    for name in ("a", "b"):
        assert run("plan", planned.shop, "--out", planned.report.parent / name, *QUICK).exit_code == 0
        text = (planned.report.parent / name / "schedule.json").read_text(encoding="utf-8")
        schedules.append({key: value for key, value in json.loads(text).items() if key != "provenance"})
    assert schedules[0] == schedules[1]


def test_a_report_goes_into_reports_if_nobody_says_otherwise(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove where a person finds the report of a folder, also when the folder is the one they are in."""
    monkeypatch.chdir(planned.shop)
    assert run("plan", ".", *QUICK).exit_code == 0
    assert (planned.shop / "reports" / "shop" / "index.html").is_file()


def test_what_moves_is_said_before_a_report_is_replaced(planned: Planned, run: Run) -> None:
    """Prove that a planner hears which hand-overs move against the report that people hold in their hands."""
    saved = json.loads(planned.schedule.read_text(encoding="utf-8"))
    saved["deliveries"][0]["delivered_at"] = "2026-03-20T10:00:00+01:00"
    planned.schedule.write_text(json.dumps(saved), encoding="utf-8")
    result = run("plan", planned.shop, "--out", planned.report, *QUICK)
    assert "Replaces the report of " in result.stderr
    assert ": 1 order moved." in result.stderr
    assert f"{saved['deliveries'][0]['order_id']}: Fri 20 Mar 10:00 -> " in result.stderr


def test_a_first_report_replaces_nothing(planned: Planned, run: Run) -> None:
    """Prove that nothing is said where there was nothing."""
    assert "Replaces" not in run("plan", planned.shop, "--out", planned.report.parent / "fresh", *QUICK).stderr


def test_a_report_with_an_unreadable_schedule_is_replaced_all_the_same(planned: Planned, run: Run) -> None:
    """Prove that a broken earlier report does not block the next one."""
    planned.schedule.write_text("{", encoding="utf-8")
    result = run("plan", planned.shop, "--out", planned.report, *QUICK)
    assert result.exit_code == 0
    assert "cannot be read" in result.stderr


def test_a_folder_that_holds_something_else_is_left_alone(planned: Planned, run: Run) -> None:
    """Prove that planning into the shop folder itself destroys nothing and is told as bad input."""
    before = sorted(path.name for path in planned.shop.iterdir())
    result = run("plan", planned.shop, "--out", planned.shop, *QUICK)
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "holds no report" in result.stderr
    assert sorted(path.name for path in planned.shop.iterdir()) == before


def state(folder: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_bad_input_leaves_the_earlier_report(planned: Planned, run: Run) -> None:
    """Prove that a run that fails on its input changes nothing."""
    before = state(planned.report)
    (planned.shop / "units.csv").write_bytes(b"")
    result = run("plan", planned.shop, "--out", planned.report, *QUICK)
    assert result.exit_code == ExitCode.BAD_INPUT
    assert "units.csv" in result.stderr
    assert state(planned.report) == before


def test_a_shop_without_a_schedule_names_orders_and_rules(tmp_path: Path, run: Run) -> None:
    """Prove that a unit that must leave before its coating is fit is answered with exit code 1, its order and its rules."""
    shop = random_shop(3, 1)
    unit = shop.units[0].model_copy(update={"must_leave_by": shop.units[0].available_from + timedelta(hours=20)})
    write_shop(shop.model_copy(update={"units": (unit,)}), tmp_path / "shop")
    result = run("plan", tmp_path / "shop", "--out", tmp_path / "run", "--time-limit", "20", "--workers", "2", "--json")
    answer = json.loads(result.stdout)
    assert result.exit_code == answer["exit_code"] == ExitCode.REFUSED
    assert answer["status"] == "infeasible"
    assert answer["orders"] == [shop.orders[0].order_id]
    assert {"release", "return_to_service"} <= set(answer["rules"])
    assert "return_to_service" in result.stderr
    assert shop.orders[0].order_id in result.stderr
    assert not (tmp_path / "run").exists()


def _ends_with(error: Exception, monkeypatch: pytest.MonkeyPatch) -> None:
    def plan(*_args: object) -> None:
        raise error

    monkeypatch.setattr(pipeline, "plan", plan)


def test_no_schedule_in_time_is_exit_code_4(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that time that was too short is told apart from a shop without a schedule, and that the report stays."""
    before = state(planned.report)
    outcome = Outcome(Status.UNKNOWN, None, None, Bounds(0, 0, ()), "insertion", None, 1.5)
    _ends_with(pipeline.NoScheduleError(outcome), monkeypatch)
    result = run("plan", planned.shop, "--out", planned.report, "--json", *QUICK)
    assert result.exit_code == ExitCode.NO_SCHEDULE
    assert json.loads(result.stdout)["status"] == "unknown"
    assert "--time-limit" in result.stderr
    assert state(planned.report) == before


def test_what_the_checker_refuses_is_not_written(planned: Planned, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that a refused schedule leaves the report alone and names the rule."""
    before = state(planned.report)
    report = CheckReport((Breach("flash_off", ("U1/wipe",), None, 3.0, "the wipe of U1 has not dried"),))
    _ends_with(pipeline.RefusedError(report), monkeypatch)
    result = run("plan", planned.shop, "--out", planned.report, "--json", *QUICK)
    assert result.exit_code == ExitCode.REFUSED
    assert json.loads(result.stdout)["breaches"][0]["rule"] == "flash_off"
    assert "the wipe of U1 has not dried" in result.stderr
    assert state(planned.report) == before


def test_typical_weather_is_said(tmp_path: Path, run: Run) -> None:
    """Prove that a plan past the end of the forecast says which part rests on a typical year."""
    shop = random_shop(3, 1)
    year = tuple(
        TypicalHour(month=at.month, day=at.day, hour=at.hour, air_temp_c=12, dew_point_c=4, wind_m_s=2, rain_mm=0)
        for at in (shop.site.plan_from.replace(year=2025, month=1, day=1, hour=0) + timedelta(hours=h) for h in range(8760))
    )
    site = shop.site.model_copy(update={"typical_year": "year.csv"})
    write_shop(shop.model_copy(update={"weather": shop.weather[:24], "typical_year": year, "site": site}), tmp_path / "shop")
    result = run("plan", tmp_path / "shop", "--out", tmp_path / "run", *QUICK)
    assert result.exit_code == 0, result.stderr
    assert "typical year, not on a forecast" in result.stdout
    dates = run("dates", tmp_path / "run")
    assert "typical year" in dates.stdout
    assert "expect them to move" in dates.stderr
