"""coatrun check: every fault of a shop folder in one pass, and whether a schedule keeps every rule."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import fault_data, fault_list
from scheduler.cli.saved import load_schedule, schedule_file
from scheduler.cli.shop_of_run import shop_of_run
from scheduler.cli.talk import say, show, show_json

if TYPE_CHECKING:
    from scheduler.shop.shop import Shop


@command(
    "check",
    "List every fault of a shop folder or workbook; test a schedule against every rule.",
    (
        "coatrun check my-shop",
        "coatrun check my-shop --schedule reports/my-shop/schedule.json",
        "coatrun check my-shop --json",
    ),
    "Faults come with file or sheet, row (the header is row 1), column, value and cure, all in one pass. A schedule, also one "
    "changed by hand, is tested by a checker that knows nothing of how it was made; what it finds has the names of the rules.",
)
@click.argument("folder", metavar="DIR", type=PATH)
@click.option("--schedule", metavar="FILE", type=PATH, help="A schedule.json, or the folder of a run.")
@as_json
def check(folder: Path, schedule: Path | None, as_json: bool) -> None:
    """Check a folder, or a schedule against it."""
    from scheduler.shop.faults import BadInputError
    from scheduler.shop.holds import read_with_holds

    try:
        shop = read_with_holds(folder)
    except BadInputError as error:
        if as_json:
            show_json("check", ExitCode.BAD_INPUT, {"folder": str(folder), "ok": False, "faults": fault_data(error.faults)})
        else:
            show(fault_list(error.faults))
        raise click.exceptions.Exit(ExitCode.BAD_INPUT.value) from error
    counts = _counts(shop)
    if schedule is not None:
        _check_schedule(folder, schedule_file(schedule), as_json=as_json)
    elif as_json:
        show_json("check", ExitCode.DONE, {"folder": str(folder), "ok": True, "faults": [], "rows": counts})
    else:
        filled = ", ".join(f"{count} {name.replace('_', ' ')}" for name, count in counts.items() if count)
        show(f"{folder}: no faults ({filled})")


def _counts(shop: "Shop") -> dict[str, int]:
    from scheduler.shop.tables import TABLES

    return {name: len(getattr(shop, name)) for name in TABLES}


def _check_schedule(folder: Path, path: Path, *, as_json: bool) -> None:
    from scheduler.check.check import check_schedule
    from scheduler.cli.made_from import what_changed
    from scheduler.cli.verdict import verdict_data, verdict_text
    from scheduler.shop.holds import read_with_holds

    schedule = load_schedule(path)
    shop, same_input = shop_of_run(path, schedule, folder)
    report = check_schedule(shop, schedule)
    code = ExitCode.DONE if report.ok else ExitCode.REFUSED
    if not same_input:
        say("The folder has changed since this schedule was made; it is tested against the folder as it is now.")
        for line in what_changed(read_with_holds(folder), path.parent):
            say(f"  {line}")
    if as_json:
        found = {"file": str(path), "made_from_this_input": same_input, **verdict_data(report)}
        show_json("check", code, {"folder": str(folder), "ok": report.ok, "faults": [], "schedule": found})
    else:
        show(verdict_text(path, report, shop.site.tz))
    raise click.exceptions.Exit(code.value)
