"""coatrun dates: when each customer gets its units back, from a saved schedule."""

from pathlib import Path
from typing import Final

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.plain_dates import PlainDate, PlainDates, plain_dates
from scheduler.cli.saved import schedule_file
from scheduler.cli.talk import say, show, show_json
from scheduler.cli.text_table import text_table
from scheduler.documents.words.local_time import duration_text

COLUMNS: Final = ("order", "customer", "due", "handed back", "standing", "rests on")


@command(
    "dates",
    "Show the delivery dates of a saved schedule.",
    ("coatrun dates reports/my-shop", "coatrun dates reports/my-shop/schedule.json --json"),
)
@click.argument("place", metavar="SCHEDULE_OR_RUN_DIR", type=PATH)
@as_json
def dates(place: Path, as_json: bool) -> None:
    """Show the dates."""
    path = schedule_file(place)
    found = plain_dates(path)
    if as_json:
        show_json("dates", ExitCode.DONE, {"file": str(path), "site": found.site, "dates": date_data(found)})
        return
    show(text_table(COLUMNS, [_cells(found, row) for row in found.rows]))
    say(f"{found.site}, planned {found.time.text(found.made_at)}.")
    if any(row.typical_weather for row in found.rows):
        say("Dates that rest on a typical year lie after the forecast, at least in part; expect them to move.")


def date_data(found: PlainDates) -> list[dict[str, object]]:
    """Dates for a machine; moments are ISO 8601 with the site's offset."""
    iso = found.time.iso
    return [
        {
            "order_id": row.order_id,
            "customer": row.customer,
            "due_at": iso(row.due_at),
            "delivered_at": iso(row.delivered_at),
            "days_late": row.days_late,
            "typical_weather": row.typical_weather,
            "units": {unit: iso(at) for unit, at in row.units.items()},
        }
        for row in found.rows
    ]


def _cells(found: PlainDates, row: PlainDate) -> tuple[str, ...]:
    text = found.time.text
    rests_on = "typical year" if row.typical_weather else "forecast"
    return row.order_id, row.customer, text(row.due_at), text(row.delivered_at), standing(row), rests_on


def standing(row: PlainDate) -> str:
    """Days late, or the time that is left, in the words of the report."""
    if row.days_late:
        return f"{row.days_late} day{'s' if row.days_late > 1 else ''} late"
    spare = row.due_at - row.delivered_at
    if spare.days:
        return f"{spare.days} day{'s' if spare.days > 1 else ''} to spare"
    return f"{duration_text(spare.total_seconds() // 60)} to spare"
