"""coatrun check: all faults of a folder in one pass, and breaches of a schedule by the name of their rule."""

import json
from datetime import datetime, timedelta
from typing import Any

from cli.conftest import Planned, Run
from scheduler.cli.exit_codes import ExitCode
from scheduler.rules import RULES


def test_a_good_folder_is_told_so(planned: Planned, run: Run) -> None:
    """Prove that a folder without faults ends with 0 and says what is in it."""
    result = run("check", planned.shop)
    assert result.exit_code == ExitCode.DONE
    assert "no faults (1 orders, 2 units" in result.stdout


def test_every_fault_comes_in_one_pass(planned: Planned, run: Run) -> None:
    """Prove that faults in five files are all in one table with file, row, column, value, problem and cure."""
    plant(planned)
    result = run("check", planned.shop)
    assert result.exit_code == ExitCode.BAD_INPUT
    head, _, columns, *_ = result.stdout.splitlines()
    assert int(head.split()[0]) >= 5
    assert columns.split() == ["file", "row", "column", "value", "problem", "cure"]
    for file in ("units.csv", "surfaces.csv", "orders.csv", "crew.csv", "bays.csv"):
        assert f"\n{file} " in result.stdout


def test_faults_as_json_say_where_and_what(planned: Planned, run: Run) -> None:
    """Prove that a machine gets every fault with the same six fields."""
    plant(planned)
    answer = json.loads(run("check", planned.shop, "--json").stdout)
    assert answer["schema"] == "coatrun/check/1"
    assert answer["exit_code"] == ExitCode.BAD_INPUT
    assert not answer["ok"]
    found = {(f["file"], f["row"], f["column"], f["value"]) for f in answer["faults"]}
    assert {
        ("surfaces.csv", 2, "area_m2", "-4"),
        ("units.csv", 2, "order_id", "nobody"),
        ("orders.csv", 2, "due_at", "2026-02-30"),
    } <= found
    assert all(f["problem"] and f["cure"] for f in answer["faults"])


def plant(planned: Planned) -> None:
    """Plant a fault in each of five files."""
    for file, column, value in (
        ("units.csv", "order_id", "nobody"),
        ("surfaces.csv", "area_m2", "-4"),
        ("orders.csv", "due_at", "2026-02-30"),
        ("crew.csv", "shift_id", "night"),
        ("bays.csv", "places", "two"),
    ):
        path = planned.shop / file
        header, first, *rest = path.read_text(encoding="utf-8").splitlines()
        cells = dict(zip(header.split(","), first.split(","), strict=True)) | {column: value}
        path.write_text("\n".join([header, ",".join(cells.values()), *rest]) + "\n", encoding="utf-8")


def test_a_kept_schedule_passes(planned: Planned, run: Run) -> None:
    """Prove that what was planned passes when it is checked again from its file, also by the folder that it is in."""
    for place in (planned.schedule, planned.report):
        result = run("check", planned.shop, "--schedule", place)
        assert result.exit_code == ExitCode.DONE
        assert f"all {len(RULES)} rules hold" in result.stdout


def moved_coat(planned: Planned, hours: float) -> str:
    """Move the last coat of the first unit that has two by hand; give its name back."""
    saved: dict[str, Any] = json.loads(planned.schedule.read_text(encoding="utf-8"))
    coat = next(work for work in saved["work"] if work["name"] == "coat-2")
    for span in coat["spans"]:
        for end in ("start", "end"):
            span[end] = (datetime.fromisoformat(span[end]) + timedelta(hours=hours)).isoformat()
    planned.schedule.write_text(json.dumps(saved), encoding="utf-8")
    return str(coat["work_id"])


def test_a_coat_moved_by_hand_is_named_by_its_rule(planned: Planned, run: Run) -> None:
    """Prove that a coat sprayed before the one below it allows is refused with the rule of that name."""
    work_id = moved_coat(planned, -2)
    result = run("check", planned.shop, "--schedule", planned.schedule)
    assert result.exit_code == ExitCode.REFUSED
    assert "refused" in result.stdout
    assert "recoat_window" in result.stdout
    answer = json.loads(run("check", planned.shop, "--schedule", planned.schedule, "--json").stdout)
    assert answer["exit_code"] == ExitCode.REFUSED
    assert not answer["ok"]
    breaches = answer["schedule"]["breaches"]
    assert any(b["rule"] == "recoat_window" and work_id in b["work_ids"] for b in breaches)
    assert {b["rule"] for b in breaches} <= set(RULES)


def test_a_goal_that_is_stated_wrongly_is_refused(planned: Planned, run: Run) -> None:
    """Prove that a figure changed by hand is found though no rule is broken."""
    saved = json.loads(planned.schedule.read_text(encoding="utf-8"))
    saved["goals"][1]["value"] += 1
    planned.schedule.write_text(json.dumps(saved), encoding="utf-8")
    result = run("check", planned.shop, "--schedule", planned.schedule)
    assert result.exit_code == ExitCode.REFUSED
    assert "figure not confirmed: goal material is stated as" in result.stdout


def test_a_folder_that_has_changed_since_is_said(planned: Planned, run: Run) -> None:
    """Prove that a schedule of other input is not taken for one of this input."""
    site = planned.shop / "site.toml"
    site.write_text(site.read_text(encoding="utf-8").replace('name = "Random shop"', 'name = "Another"'), encoding="utf-8")
    result = run("check", planned.shop, "--schedule", planned.schedule, "--json")
    assert not json.loads(result.stdout)["schedule"]["made_from_this_input"]
    assert "has changed since" in result.stderr
