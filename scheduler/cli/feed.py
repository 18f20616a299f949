"""coatrun feed: calendars of each person and order, from a saved schedule."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved import load_schedule, schedule_file
from scheduler.cli.shop_of_run import shop_of_run
from scheduler.cli.talk import say, show, show_json

FEED_FOLDER = "calendar"
"""Folder of the feeds in the folder of a run."""


@command(
    "feed",
    "Write calendars of each person and order (iCalendar).",
    ("coatrun feed reports/my-shop", "coatrun feed reports/my-shop --out /srv/calendars"),
    "Each person's file holds their work, each order's file the arrival and hand-over of its units. Calendar programs can "
    "subscribe to them. coatrun plan writes them too, into the folder calendar of the run. Files that are there are followed "
    "on from: what moved counts one on, what fell away is taken back. A schedule that breaks a rule is not handed out.",
)
@click.argument("place", metavar="DIR_OR_SCHEDULE", type=PATH)
@click.option("--out", metavar="DIR", type=PATH, help="Folder of the calendars; calendar beside the schedule if not given.")
@click.option("--shop", metavar="DIR", type=PATH, help="Shop folder or workbook, where the run does not say it.")
@as_json
def feed(place: Path, out: Path | None, shop: Path | None, as_json: bool) -> None:
    """Write the calendars."""
    from scheduler.check.check import check_schedule
    from scheduler.cli.verdict import verdict_data, verdict_text
    from scheduler.documents.feed.write_feeds import write_feeds
    from scheduler.documents.words.work_words import WorkWords

    path = schedule_file(place)
    schedule = load_schedule(path)
    words = WorkWords(shop_of_run(path, schedule, shop)[0], schedule)
    report = check_schedule(words.shop, schedule)
    if not report.ok:
        raise Failed(ExitCode.REFUSED, verdict_text(path, report, words.shop.site.tz), verdict_data(report))
    files = write_feeds(words, out or path.parent / FEED_FOLDER, say)
    if as_json:
        show_json("feed", ExitCode.DONE, {"file": str(path), "files": [str(file) for file in files]})
    else:
        show("\n".join(map(str, files)))
