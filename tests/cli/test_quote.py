"""coatrun quote and coatrun holds: a date for new units, capacity kept for them, and its release."""

import json
import subprocess
import sys

import pytest

from cli.conftest import Planned, Run
from scheduler.shop.holds import read_with_holds

COUNTED = ("--moves", 5)


def test_a_quote_names_both_dates_and_what_binds(planned: Planned, run: Run) -> None:
    """The line for sales has the units, the arrival and both dates; --json has the same moments."""
    asked = ("quote", planned.shop, "2xU1", "--told", planned.report, "--arrive", "2026-03-04", *COUNTED)
    text = run(*asked).stdout
    answer = json.loads(run(*asked, "--json").stdout)
    assert text.startswith("2 x U1, here on Wed 4 Mar 00:00: back on")
    assert "with nothing moved" in text
    assert answer["with_moves"]["back_at"] <= answer["nothing_moved"]["back_at"]
    assert answer["nothing_moved"]["back_at"] == max(answer["nothing_moved"]["units"].values())
    assert all(bind["back_at"] < answer["nothing_moved"]["back_at"] for bind in answer["binds"])


def test_a_hold_is_planned_with_and_quoted_around_until_it_is_released(planned: Planned, run: Run) -> None:
    """Held units are orders of the shop; the same question afterwards gets no earlier date, and the first one after release."""
    asked = ("quote", planned.shop, "1xU1", "--told", planned.report, "--nothing-moved", "--json")
    first = json.loads(run(*asked, "--hold", "2026-03-20", "--customer", "City of Ost").stdout)
    assert first["hold"] == "hold-1"
    shop = read_with_holds(planned.shop)
    assert shop.order_by_id["hold-1"].customer == "City of Ost"
    assert [unit.unit_id for unit in shop.units_of["hold-1"]] == ["hold-1.U1.1"]
    second = json.loads(run(*asked).stdout)
    assert second["nothing_moved"]["back_at"] >= first["nothing_moved"]["back_at"]
    assert "hold-1" in run("holds", planned.shop).stdout
    assert run("holds", planned.shop, "--release", "hold-1").exit_code == 0
    assert json.loads(run(*asked).stdout)["nothing_moved"] == first["nothing_moved"]


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("5",), 2, "write a count and a unit"),
        (("2xU99",), 3, "has no such unit"),
        (("0xU1",), 2, "'0xU1': ask for at least one"),
        (("201xU1",), 2, "201 units: ask for 1 to 200 at once"),
        (("2xU01",), 3, "write U1 if that is meant"),
        (("1xU1", "--arrive", "2031-01-01"), 3, "--arrive 2031-01-01 00:00:00: the plan ends on 2026"),
        (("1xU1", "--hold", "2020-01-01"), 3, "--hold 2020-01-01: it would have lapsed before the plan begins on 2026"),
        (("2xU1", "--hold", "soon"), 2, "is no day"),
    ],
)
def test_questions_that_make_no_sense(planned: Planned, run: Run, words: tuple[str, ...], code: int, says: str) -> None:
    """Each with a cure and no traceback."""
    result = run("quote", planned.shop, *words, "--told", planned.report, *COUNTED)
    assert result.exit_code == code
    assert says in result.stderr


def test_all_faults_of_the_lines_are_told_in_one_pass(planned: Planned, run: Run) -> None:
    """No line hides the next; nothing is searched and nothing is held."""
    lines = ("2xNOBODY", "0xU1", "U1", "x5")
    result = run("quote", planned.shop, *lines, "--told", planned.report, "--hold", "2026-03-20")
    assert result.exit_code == 3
    assert [line.partition("'")[2].partition("'")[0] for line in result.stderr.splitlines()] == ["NOBODY", "0xU1", "U1", "x5"]
    assert "Nothing is held" in run("holds", planned.shop).stderr


def test_units_that_come_before_the_plan_begins_are_reckoned_from_then(planned: Planned, run: Run) -> None:
    """The same answer as without a day, and it is said."""
    asked = ("quote", planned.shop, "1xU1", "--told", planned.report, "--nothing-moved")
    early = run(*asked, "--arrive", "2020-01-01").stdout
    assert "2020-01-01 is before the plan begins" in early
    assert early.splitlines()[0] == run(*asked).stdout.splitlines()[0]


def test_what_is_recorded_or_held_finds_a_fresh_room_and_nobody_comes_into_the_past(planned: Planned, run: Run) -> None:
    """After an absence and after a hold the room is there again; a reading of the third day is when new units come at best."""
    room = planned.report / "room.json"
    asked = ("quote", planned.shop, "1xU1", "--told", planned.report, "--nothing-moved", "--json")
    marks = [json.loads(room.read_text().partition("\n")[0])["made_from"]]
    report = ("record", planned.report, "--shop", planned.shop, "--now", "2026-03-04T09:00")
    assert run(*report, "away", "W1", "--until", "2026-03-05").exit_code == 0
    marks.append(json.loads(room.read_text().partition("\n")[0])["made_from"])
    assert run(*report, "rejected", "L1").exit_code == 0
    marks.append(json.loads(room.read_text().partition("\n")[0])["made_from"])
    held = json.loads(run(*asked, "--hold", "2026-03-20").stdout)
    marks.append(json.loads(room.read_text().partition("\n")[0])["made_from"])
    assert run("holds", planned.report, "--release", held["hold"]).exit_code == 0
    marks.append(json.loads(room.read_text().partition("\n")[0])["made_from"])
    assert marks[1] == marks[2] == marks[4]
    assert len(set(marks)) == 3
    assert held["arrive_at"].startswith("2026-03-04T09:00")
    assert held["not_reckoned_with"] == ["a lot that was rejected"]
    text = run(*asked[:-1], "--arrive", "2026-03-03").stdout
    assert "2026-03-03 is over by what was reported, so they are reckoned from Wed 4 Mar 09:00" in text
    assert "not reckoned with: a lot that was rejected" in text


def test_releasing_what_is_not_held(planned: Planned, run: Run) -> None:
    """The holds that there are get named."""
    result = run("holds", planned.shop, "--release", "hold-9")
    assert result.exit_code == 3
    assert "there is no hold hold-9; there are none" in result.stderr


def test_an_answer_from_a_saved_plan_loads_nothing_heavy(planned: Planned) -> None:
    """With the room of the plan beside it, neither the shop nor the solver is read."""
    code = (
        "import sys; from scheduler.cli.app import app\n"
        f"sys.argv = ['coatrun', 'quote', {str(planned.shop)!r}, '1xU1', '--told', {str(planned.report)!r}, '--nothing-moved']\n"
        "try:\n    app()\nexcept SystemExit as end:\n    assert not end.code\n"
        "assert not {'pydantic', 'numpy', 'ortools', 'pandas', 'scipy', 'scheduler.shop.read'} & set(sys.modules)\n"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert found.returncode == 0, found.stderr
