"""coatrun dates: delivery dates from a saved schedule."""

import json
from datetime import UTC, datetime, timedelta

import pytest

from cli.conftest import Planned, Run
from scheduler.cli.dates import standing
from scheduler.cli.plain_dates import PlainDate
from scheduler.documents.state.delivery_dates import date_json, date_rows
from scheduler.schedule.store import read_schedule

NOON = datetime(2026, 6, 3, 12, tzinfo=UTC)


@pytest.mark.parametrize("place", ["report", "schedule"])
def test_dates_are_those_of_the_report(planned: Planned, run: Run, place: str) -> None:
    """Prove that the quick way to the dates and the report say the same words."""
    result = run("dates", getattr(planned, place))
    assert result.exit_code == 0
    lines = result.stdout.splitlines()[2:]
    rows = date_rows(read_schedule(planned.schedule))
    assert len(lines) == len(rows)
    for line, row in zip(lines, rows, strict=True):
        for words in (row.order_id, row.customer, row.due, row.delivered, row.standing):
            assert words in line


def test_json_is_that_of_the_report(planned: Planned, run: Run) -> None:
    """Prove that both ways give a machine the same rows."""
    answer = json.loads(run("dates", planned.report, "--json").stdout)
    assert answer["schema"] == "coatrun/dates/1"
    rows = [{k: v for k, v in row.items() if k != "slack_h"} for row in date_json(read_schedule(planned.schedule))]
    assert answer["dates"] == rows


@pytest.mark.parametrize(
    ("late", "spare", "words"),
    [
        (1, timedelta(hours=-3), "1 day late"),
        (4, timedelta(days=-4), "4 days late"),
        (0, timedelta(0), "0 min to spare"),
        (0, timedelta(hours=7, minutes=30), "7 h 30 min to spare"),
        (0, timedelta(days=1, hours=3), "1 day to spare"),
        (0, timedelta(days=3, hours=23), "3 days to spare"),
    ],
)
def test_standing_in_words(late: int, spare: timedelta, words: str) -> None:
    """Prove the words at the edges: on the minute, within a day, whole days rounded down."""
    row = PlainDate("O1", "C", NOON, NOON - spare, late, False, {})
    assert standing(row) == words


def test_what_would_steer_the_terminal_is_left_out(planned: Planned, run: Run) -> None:
    """Prove that a name with escape sequences in it cannot clear a screen or turn text around."""
    saved = json.loads(planned.schedule.read_text(encoding="utf-8"))
    saved["site"], saved["deliveries"][0]["customer"] = "a\x1b[2Jb", "c\x1b]0;x\x07\u202ed"
    planned.schedule.write_text(json.dumps(saved), encoding="utf-8")
    result = run("dates", planned.report)
    assert result.exit_code == 0
    assert not {"\x1b", "\x07", "\u202e"} & set(result.stdout + result.stderr)
