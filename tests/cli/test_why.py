"""coatrun why and coatrun what-if."""

import json
import re

import pytest

from cli.conftest import Planned, Run


def test_a_unit_and_its_order_get_the_same_answer(planned: Planned, run: Run) -> None:
    """The order stands for its last unit; the words and the data have the same figures."""
    asked = ("--told", planned.report)
    answer = json.loads(run("why", planned.shop, "U1", *asked, "--json").stdout)
    text = run("why", planned.shop, "U1", *asked).stdout
    assert text.startswith(f"U1 of order {answer['order_id']}")
    by_order = json.loads(run("why", planned.shop, answer["order_id"], *asked, "--json").stdout)
    assert by_order["order_id"] == answer["order_id"]
    assert all(bind["back_at"] < answer["back_at"] for bind in answer["binds"])


@pytest.mark.parametrize(
    ("day", "says"), [("2026-03-02", "Not even alone in the shop could it be back"), ("2026-12-01", "It is back by")]
)
def test_why_not_on_a_day(planned: Planned, run: Run, day: str, says: str) -> None:
    """A day before anything can be done, and one long after."""
    assert says in run("why", planned.shop, "U1", "--told", planned.report, "--not", day).stdout


def test_why_a_late_unit_is_late_is_asked_without_a_day(planned: Planned, run: Run) -> None:
    """Due before its own work can be over, no other unit is blamed; due when it is back, it is on time."""
    asked, file = ("why", planned.shop, "U1", "--told", planned.report), planned.shop / "orders.csv"
    back_at = json.loads(run(*asked, "--json").stdout)["back_at"]
    before, table = run(*asked).stdout, file.read_text(encoding="utf-8")
    assert "in time" not in before
    due = re.search(r"2026-\d\d-\d\dT[\d:+]*", table)
    assert due is not None
    for moment, says in (("2026-03-02T12:00", "no other unit is to blame. There it could be back on"), (back_at, "on time")):
        file.write_text(table.replace(due[0], moment), encoding="utf-8")
        assert says in run(*asked).stdout


def test_a_name_that_is_nobody(planned: Planned, run: Run) -> None:
    """What may be meant and the orders that there are get named."""
    result = run("why", planned.shop, "U11", "--told", planned.report)
    assert result.exit_code == 3
    assert "U11 is no unit and no order; write U1 if" in result.stderr
    assert "that is meant; the orders are O1" in result.stderr


def test_what_would_help_says_what_it_spent(planned: Planned, run: Run) -> None:
    """The shop as it is comes first and saves nothing against itself."""
    answer = json.loads(run("what-if", planned.shop, "--told", planned.report, "--moves", 2, "--json").stdout)
    assert answer["rows"][0]["with"] == "the shop as it is"
    assert (answer["rows"][0]["lateness_saved"], answer["rows"][0]["packs_saved"]) == (0, 0)
    assert all(row["took_s"] > 0 for row in answer["rows"])


def test_a_run_that_knows_its_shop_can_be_asked_itself(planned: Planned, run: Run) -> None:
    """Prove that the folder of a run gives the answer that its shop gives with --told."""
    unit = "U1"
    of_shop = run("why", planned.shop, unit, "--told", planned.report)
    of_run = run("why", planned.report, unit)
    assert of_run.exit_code == 0
    assert of_run.stdout == of_shop.stdout


def test_what_a_goal_costs_the_next(planned: Planned, run: Run) -> None:
    """The text has a sentence for each two goals, with the figures of the data."""
    asked = ("--told", planned.report, "--moves", 5)
    rows = json.loads(run("goal-costs", planned.shop, *asked, "--json").stdout)["rows"]
    text = run("goal-costs", planned.shop, *asked).stdout
    assert text.count("Keeping ") == len(rows) - 1 == 4
    assert all(f"{row['goals']['material']:g}" in text for row in rows)
