"""coatrun holds: capacity that is kept for quotes, and its release."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.holding import COLUMNS, read_holds, release
from scheduler.cli.saved import SCHEDULE_FILE, report_folder, schedule_file, shop_and_run
from scheduler.cli.talk import say, show, show_json
from scheduler.cli.text_table import text_table


@command(
    "holds",
    "List what is held for quotes, or release it.",
    ("coatrun holds my-shop", "coatrun holds my-shop --release hold-1"),
    "A hold lapses by itself when a plan begins after its last day; until then plans and quotes keep its capacity.",
)
@click.argument("folder", metavar="DIR", type=PATH)
@click.option("--release", "name", metavar="HOLD", help="Give its capacity free.")
@as_json
def holds(folder: Path, name: str | None, as_json: bool) -> None:
    """List or release."""
    from scheduler.cli.fresh_room import room_kept_fresh

    folder, run = shop_and_run(folder, None)
    if name is not None:
        with room_kept_fresh(folder, schedule_file(run) if run else report_folder(folder) / SCHEDULE_FILE):
            release(folder, name)
        say(f"{name} is released; the next plan and quote no longer keep its capacity.")
    rows = read_holds(folder)
    if as_json:
        show_json("holds", ExitCode.DONE, {"holds": [dict(row) for row in rows]})
    elif rows:
        show(text_table(COLUMNS, [tuple(row[column] for column in COLUMNS) for row in rows]))
    else:
        say("Nothing is held.")
