"""coatrun replan and coatrun compare: from a saved plan to the choices, and what they change."""

import json
from datetime import timedelta
from pathlib import Path

import pytest

from cli.conftest import Planned, Run
from scheduler.schedule.store import read_schedule, write_schedule
from scheduler.shop.calendar import Closure
from scheduler.shop.read import read_shop
from scheduler.shop.write import write_shop

FEW = ("--moves", 6)


def lose_bay(planned: Planned) -> str:
    """Shut the bay of the first coat from before it until after it; return its name."""
    shop, coat = read_shop(planned.shop), next(w for w in read_schedule(planned.schedule).work if w.name == "coat-1")
    row = Closure(what="bay", which=coat.bay_id, closed_from=coat.start - timedelta(hours=2), closed_until=coat.end, reason="R")  # type: ignore[arg-type]
    write_shop(shop.model_copy(update={"closures": (row,)}), planned.shop)
    return str(coat.bay_id)


def test_nothing_has_changed(planned: Planned, run: Run) -> None:
    """Everything can stay, the repair moves nothing and nothing is written."""
    before = planned.schedule.read_bytes()
    result = run("replan", planned.shop, "--told", planned.report, "--now", "2026-03-02T06:00", *FEW)
    assert result.exit_code == 0, result.stderr
    assert "Everything can stay where people were told." in result.stdout
    assert "Nothing was written" in result.stdout
    assert planned.schedule.read_bytes() == before


def test_a_lost_bay_is_named_and_the_choice_taken_is_written(planned: Planned, run: Run, tmp_path: Path) -> None:
    """The unit and the rule are named; the choice that is taken passes the check and is what the comparison then shows."""
    lose_bay(planned)
    out = tmp_path / "reports" / "new"
    wanted = ("--now", "2026-03-02T06:00", "--take", "few", "--out", out, "--json")
    result = run("replan", planned.shop, "--told", planned.report, *wanted, *FEW)
    assert result.exit_code == 0, result.stderr
    answer = json.loads(result.stdout)
    assert [choice["name"] for choice in answer["choices"]] == ["repair", "few", "best"]
    assert any("bay_places" in why for why in answer["broken"].values())
    assert answer["taken"] == "few"
    compared = json.loads(run("compare", planned.report, out, "--json").stdout)
    few = answer["choices"][1]["changes"]
    assert compared["steps"] == few["steps"]
    assert compared["says"] == few["says"]
    assert run("check", planned.shop, "--schedule", out).exit_code == 0


def test_a_frozen_period_longer_than_the_plan_is_refused(planned: Planned, run: Run) -> None:
    """With both dates and a cure."""
    result = run("replan", planned.shop, "--told", planned.report, "--now", "2026-03-02T06:00", "--frozen", "400d", *FEW)
    assert result.exit_code == 3
    assert "the frozen period goes to 2027-04-06" in result.stderr
    assert "give a shorter one" in result.stderr


def test_now_after_the_plan_is_refused(planned: Planned, run: Run) -> None:
    """There is nothing left to plan."""
    result = run("replan", planned.shop, "--told", planned.report, "--now", "2027-01-01", *FEW)
    assert result.exit_code == 3
    assert "before now" in result.stderr


@pytest.mark.parametrize("words", [("--frozen", "soon"), ("--now", "tomorrow")])
def test_lengths_and_moments_that_are_none(planned: Planned, run: Run, words: tuple[str, str]) -> None:
    """A usage fault that says how to write them."""
    result = run("replan", planned.shop, *words)
    assert result.exit_code == 2
    assert "write" in result.stderr


def test_the_chart_of_a_comparison_is_a_page_of_its_own(planned: Planned, run: Run, tmp_path: Path) -> None:
    """The page holds a row for each hand-over that moves and loads nothing."""
    lose_bay(planned)
    out, chart = tmp_path / "reports" / "new", tmp_path / "changes.html"
    run("replan", planned.shop, "--told", planned.report, "--now", "2026-03-02T06:00", "--take", "repair", "--out", out, *FEW)
    moved = json.loads(run("compare", planned.report, out, "--json", "--chart", chart).stdout)["orders"]
    page = chart.read_text(encoding="utf-8")
    assert moved
    assert page.count('<div role="listitem"') == len(moved)
    assert "http" not in page.replace("http-equiv", "")


def test_a_folder_that_has_changed_says_in_which_rows(planned: Planned, run: Run) -> None:
    """Both the check of the old schedule and the re-plan name the table and the row."""
    lose_bay(planned)
    checked = run("check", planned.shop, "--schedule", planned.schedule)
    assert "closures.csv: bay" in checked.stderr
    result = run("replan", planned.shop, "--told", planned.report, "--now", "2026-03-02T06:00", *FEW)
    assert "Changed since the plan that people were told, closures.csv: bay" in result.stderr


def test_what_nobody_has_reported_is_said_to_count_as_not_done(planned: Planned, run: Run) -> None:
    """A day later with nothing recorded: how many steps, the first, and the command for what went as planned."""
    work = min(read_schedule(planned.schedule).work, key=lambda w: w.end)
    now = f"{work.end + timedelta(hours=2):%Y-%m-%dT%H:%M}"
    result = run("replan", planned.shop, "--told", planned.report, "--now", now, *FEW)
    assert result.exit_code == 0, result.stderr
    assert "Not reported, and so not done" in result.stderr
    assert f"the first {work.work_id} of" in result.stderr
    assert f"coatrun record {planned.report} as-planned" in result.stderr


def test_plans_of_two_shops_are_not_compared(planned: Planned, run: Run, tmp_path: Path) -> None:
    """They have no unit in common: both sites are named, and what to give instead; a plan beside itself has no difference."""
    other = read_schedule(planned.report / "schedule.json")
    renamed = tuple(work.model_copy(update={"unit_id": f"Z{work.unit_id}"}) for work in other.work)
    write_schedule(other.model_copy(update={"site": "Far yard", "work": renamed}), tmp_path / "schedule.json")
    result = run("compare", planned.report, tmp_path)
    assert result.exit_code == 3
    assert "plans Far yard: they have no unit in common; give two runs of one shop" in result.stderr
    assert run("compare", planned.report, planned.report).stdout == "Nothing changes.\n"


def test_the_choices_as_a_page(planned: Planned, run: Run, tmp_path: Path) -> None:
    """The page has a part for each choice; a name that is no page is refused, and nothing is written over."""
    lose_bay(planned)
    page, table = tmp_path / "choices.html", planned.shop / "units.csv"
    wanted = ("replan", planned.shop, "--told", planned.report, "--now", "2026-03-02T06:00", *FEW, "--chart")
    result = run(*wanted, page)
    assert result.exit_code == 0, result.stderr
    assert "orders late" in result.stdout
    assert all(f"{name}: what moves" in page.read_text(encoding="utf-8") for name in ("repair", "few", "best"))
    before = table.read_bytes()
    for place, says in ((table, "give a name that ends in .html"), (tmp_path / "no" / "c.html", "make it first")):
        refused = run(*wanted, place)
        assert refused.exit_code == 3
        assert says in refused.stderr
    assert table.read_bytes() == before
