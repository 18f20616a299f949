"""Delivery dates from the schedule alone."""

import csv
import io
import json
import subprocess
import sys
from datetime import timedelta

from documents.sample import sample_schedule
from scheduler.documents.state.delivery_dates import COLUMNS, date_csv, date_json, date_rows
from scheduler.documents.words.table import csv_text


def test_rows_say_how_late_or_how_much_is_left() -> None:
    """The second order is two days late; the others have three days to spare."""
    rows = date_rows(sample_schedule())
    assert [(r.order_id, r.standing, r.late) for r in rows] == [
        ("O1", "3 days to spare", False),
        ("O2", "2 days late", True),
        ("O3", "3 days to spare", False),
    ]
    assert rows[0].units == ("U1: Wed 22 Oct 15:30", "U2: Wed 22 Oct 15:30")


def test_slack_below_a_day_is_said_in_hours() -> None:
    """Half an hour is not "0 days"."""
    schedule = sample_schedule()
    first = schedule.deliveries[0]
    tight = first.model_copy(update={"due_at": first.delivered_at + timedelta(minutes=30)})
    assert date_rows(schedule.model_copy(update={"deliveries": (tight,)}))[0].standing == "30 min to spare"


def test_dates_that_rest_on_a_typical_year_are_flagged() -> None:
    """Orders handed back in November are."""
    flags = {row.order_id: row.typical_weather for row in date_rows(sample_schedule(20))}
    assert (flags["O1"], flags["O10"]) == (False, True)


def test_rows_are_plain_json() -> None:
    """Written and read back they are equal; moments carry the offset."""
    rows = date_json(sample_schedule())
    assert json.loads(json.dumps(rows)) == rows
    assert rows[0]["delivered_at"] == "2025-10-22T15:30+02:00"
    assert rows[0]["slack_h"] == 72.5
    assert rows[1]["days_late"] == 2


def test_csv_has_a_row_for_each_order() -> None:
    """Columns as documented, numbers as numbers."""
    rows = list(csv.DictReader(io.StringIO(date_csv(sample_schedule()).removeprefix("\ufeff"))))
    assert tuple(rows[0]) == COLUMNS
    assert [(r["order_id"], r["days_late"], r["typical_weather"]) for r in rows] == [
        ("O1", "0", "no"),
        ("O2", "2", "no"),
        ("O3", "0", "no"),
    ]


def test_text_that_looks_like_a_formula_is_inert_in_csv() -> None:
    """A spreadsheet shows it and does not run it; numbers below zero stay numbers."""
    text = csv_text(("a", "b"), [("=1+1", -3.5), ("+1", 0), ("@x", None), ("\tx", 1), ("plain\u202e", 2)])
    rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"))))
    assert rows[1:] == [["'=1+1", "-3.5"], ["'+1", "0"], ["'@x", ""], ["'\tx", "1"], ["plain", "2"]]


def test_dates_load_nothing_heavy() -> None:
    """An answer from a saved schedule must come at once: no charts, templates or numbers are imported for it."""
    names = "('plotly', 'jinja2', 'numpy', 'pandas')"
    code = f"import sys, scheduler.documents.state.delivery_dates; print(*(m for m in {names} if m in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stdout.strip() == ""
