"""coatrun compare: what differs between two schedules, and who feels it."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.page_file import page_file
from scheduler.cli.saved import load_schedule, schedule_file
from scheduler.cli.talk import say, show, show_json
from scheduler.cli.text_table import text_table
from scheduler.shop.whole_file import put_file


@command(
    "compare",
    "Show what differs between two saved schedules, and who feels it.",
    (
        "coatrun compare reports/monday reports/tuesday",
        "coatrun compare reports/monday reports/tuesday --chart changes.html",
        "coatrun compare reports/monday reports/tuesday --json",
    ),
    "By customer, unit, person and bay. What has happened in between is history and no difference. A and B are runs or "
    "schedule.json files of one site, the earlier first.",
)
@click.argument("before", metavar="A", type=PATH)
@click.argument("after", metavar="B", type=PATH)
@click.option("--chart", metavar="FILE", type=PATH, help="Write a page with charts of what moves.")
@as_json
def compare(before: Path, after: Path, chart: Path | None, as_json: bool) -> None:
    """Compare two schedules."""
    page_file(chart)
    earlier, later = load_schedule(schedule_file(before)), load_schedule(schedule_file(after))
    from zoneinfo import ZoneInfo

    from scheduler.documents.changes.change_words import change_data, change_sentence, change_tables
    from scheduler.documents.words.local_time import LocalTime
    from scheduler.schedule.changes import changes

    if not {work.unit_id for work in earlier.work} & {work.unit_id for work in later.work}:
        says = f"coatrun: {before} plans {earlier.site}, {after} plans {later.site}: they have no unit in common"
        raise Failed(ExitCode.BAD_INPUT, f"{says}; give two runs of one shop, the earlier first")
    found, time = changes(earlier, later), LocalTime(ZoneInfo(later.zone))
    if earlier.site != later.site:
        say(f"These are plans of two sites, {earlier.site} and {later.site}.")
    if chart is not None:
        from scheduler.documents.changes.change_page import change_page

        put_file(chart, change_page(later.site, found, time))
    if as_json:
        show_json("compare", ExitCode.DONE, {"site": later.site, **change_data(found, time)})
        return
    lines = [change_sentence(found, time)]
    for table in change_tables(found, time):
        lines += ["", f"{table.caption}:", text_table(table.columns, table.rows)]
    show("\n".join(lines))
