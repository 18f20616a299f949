"""coatrun why: what holds a unit or an order up."""

from datetime import datetime
from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.durations import moment
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.saved import shop_and_run
from scheduler.cli.talk import show, show_json


@command(
    "why",
    "Say why a unit or an order is handed back when it is, and not earlier.",
    ("coatrun why my-shop H1", "coatrun why my-shop ORDER-7 --not 2013-10-08", "coatrun why my-shop H1 --json"),
    "Everything is computed: the unit is put into the plan again with one rule, resource or date eased at a time, everybody else "
    "held where they are, and what that gains is said. --not asks why it is not handed back on that day.",
)
@click.argument("folder", metavar="DIR", type=PATH)
@click.argument("what", metavar="UNIT|ORDER")
@click.option("--not", "day", metavar="DAY", callback=moment, help="Why it is not back by the end of this day.")
@click.option("--told", metavar="RUN_DIR", type=PATH, help="The run that is asked about: DIR itself, or reports/<name of DIR>.")
@as_json
def why(folder: Path, what: str, day: datetime | None, told: Path | None, as_json: bool) -> None:
    """Ask and answer."""
    from scheduler.cli.asking_why import asked_why, why_data
    from scheduler.cli.why_text import why_text

    folder, told = shop_and_run(folder, told)
    found = asked_why(folder, what, day, told)
    if as_json:
        show_json("why", ExitCode.DONE, why_data(found))
    else:
        show(why_text(found))
