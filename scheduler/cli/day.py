"""coatrun day: the foreman's sheet of one day, from a saved schedule."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved import load_schedule, schedule_file, shop_folder_of
from scheduler.cli.talk import say, show, show_json

if TYPE_CHECKING:
    from scheduler.documents.work_words import WorkWords


def _date(_ctx: click.Context, _param: click.Parameter, text: str | None) -> date | None:
    try:
        return None if text is None else date.fromisoformat(text)
    except ValueError as error:
        msg = f"{text!r} is no date; write it as 2026-06-03"
        raise click.BadParameter(msg) from error


@command(
    "day",
    "Show the foreman's sheet and the pick list of a day.",
    (
        "coatrun day reports/my-shop",
        "coatrun day reports/my-shop 2026-06-03",
        "coatrun day schedule.json 2026-06-03 --shop my-shop",
    ),
    "By time and bay: unit, step, people, limits to measure before work starts, cartridges to load and to take out, what to "
    "fetch from the store, cautions. DIR_OR_SCHEDULE is the folder of a run, its schedule.json or the shop folder. Without a "
    "date it is the first day on which there is work still to do. A schedule that breaks a rule is shown with a warning.",
)
@click.argument("place", metavar="DIR_OR_SCHEDULE", type=PATH)
@click.argument("day", metavar="[DATE]", required=False, callback=_date)
@click.option("--shop", metavar="DIR", type=PATH, help="Shop folder, where the run does not say it.")
@as_json
def day(place: Path, day: date | None, shop: Path | None, as_json: bool) -> None:
    """Show a day."""
    words = _words(place, shop)
    from scheduler.check.check import check_schedule
    from scheduler.cli.day_data import day_data
    from scheduler.cli.day_text import day_text
    from scheduler.documents.day_sheet import day_sheet
    from scheduler.documents.pick_list import pick_list
    from scheduler.documents.plan_state import checked

    report = check_schedule(words.shop, words.schedule)
    code = ExitCode.DONE if report.ok else ExitCode.REFUSED
    chosen = day or _first_day(words)
    sheet, picks = day_sheet(words, chosen), pick_list(words, chosen)
    if as_json:
        show_json("day", code, {"ok": report.ok, **day_data(words, sheet, picks)})
    else:
        show(day_text(words, sheet, picks, warning="" if report.ok else checked(report)))
    if not sheet.rows and not sheet.to_load:
        last = words.time.day(max(work.end for work in words.schedule.work))
        say(f"Work is planned from {_first_day(words)} to {last}.")
    raise click.exceptions.Exit(code.value)


def _words(place: Path, shop_folder: Path | None) -> "WorkWords":
    from scheduler.documents.work_words import WorkWords
    from scheduler.shop.input_hash import input_hash
    from scheduler.shop.read import read_shop

    path = schedule_file(place)
    schedule = load_schedule(path)
    if not schedule.work:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {path}: there is no work in this schedule")
    shop = read_shop(shop_folder or shop_folder_of(path))
    if schedule.provenance.input_hash != input_hash(shop):
        say("The shop folder has changed since this schedule was made; names and limits are those of now.")
    return WorkWords(shop, schedule)


def _first_day(words: "WorkWords") -> date:
    """First local day with work that is not history; the first of all if everything is."""
    works = [work for work in words.schedule.work if not work.done] or words.schedule.work
    starts = [work.start for work in works] + [load.loaded_at for work in works for load in work.loads]
    return words.time.day(min(starts))
