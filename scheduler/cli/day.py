"""coatrun day: the foreman's sheet of one day, from a saved schedule."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.day_pdf import day_pdf
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.pdf import needs_pdf
from scheduler.cli.saved_words import saved_words
from scheduler.cli.talk import say, show, show_json

if TYPE_CHECKING:
    from scheduler.check.breach import CheckReport
    from scheduler.documents.sheets.day_sheet import DaySheet
    from scheduler.documents.store.pick import PickList
    from scheduler.documents.words.work_words import WorkWords


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
        "coatrun day reports/my-shop 2026-06-03 --pdf",
        "coatrun day schedule.json 2026-06-03 --shop my-shop --person ana --pdf --out ana.pdf",
    ),
    "By time and bay: unit, step, people, limits to measure before work starts, cartridges to load and to take out, what to "
    "fetch from the store, cautions. DIR_OR_SCHEDULE is the folder of a run, its schedule.json or the shop folder. Without a "
    "date it is the first day on which there is work still to do. A schedule that breaks a rule is shown with a warning and not "
    "printed.",
)
@click.argument("place", metavar="DIR_OR_SCHEDULE", type=PATH)
@click.argument("day", metavar="[DATE]", required=False, callback=_date)
@click.option("--shop", metavar="DIR", type=PATH, help="Shop folder, where the run does not say it.")
@click.option("--person", metavar="ID", help="Only the work of this member of the crew.")
@click.option("--pdf", is_flag=True, help="Write it as PDF for A4; needs the extra coatrun[pdf].")
@click.option("--out", metavar="FILE", type=PATH, help="With --pdf: file or folder; beside the schedule if not given.")
@as_json
def day(place: Path, day: date | None, shop: Path | None, person: str | None, pdf: bool, out: Path | None, as_json: bool) -> None:
    """Show a day."""
    path, words = saved_words(place, shop)
    from scheduler.check.check import check_schedule
    from scheduler.documents.sheets.crew_sheet import sheet_of_person
    from scheduler.documents.sheets.day_sheet import day_sheet
    from scheduler.documents.store.pick import PickList
    from scheduler.documents.store.pick_list import pick_list

    if pdf:
        needs_pdf()
    who, report, chosen = _known_person(words, person), check_schedule(words.shop, words.schedule), day or _first_day(words)
    sheet, picks = day_sheet(words, chosen), pick_list(words, chosen)
    if pdf and report.ok:
        say(f"Written: {day_pdf(words, sheet, picks, who, out or path.parent)}")
    if who is not None:
        sheet, picks = sheet_of_person(words, sheet, who), PickList(chosen, ())
    _show(words, report, sheet, picks, as_json=as_json, quiet=pdf and report.ok)
    if not sheet.rows and not sheet.to_load:
        last = words.time.day(max(work.end for work in words.schedule.work))
        say(f"Work is planned from {_first_day(words)} to {last}.")
    raise click.exceptions.Exit((ExitCode.DONE if report.ok else ExitCode.REFUSED).value)


def _show(words: "WorkWords", report: "CheckReport", sheet: "DaySheet", picks: "PickList", *, as_json: bool, quiet: bool) -> None:
    """Show the sheet; one that is on paper is shown only to who asks for JSON."""
    from scheduler.cli.day_data import day_data
    from scheduler.cli.day_text import day_text
    from scheduler.documents.state.plan_state import checked

    if as_json:
        show_json("day", ExitCode.DONE if report.ok else ExitCode.REFUSED, {"ok": report.ok, **day_data(words, sheet, picks)})
    elif not quiet:
        show(day_text(words, sheet, picks, warning="" if report.ok else checked(report)))


def _known_person(words: "WorkWords", person_id: str | None) -> str | None:
    if person_id is not None and person_id not in words.shop.person_by_id:
        crew = ", ".join(words.shop.person_by_id)
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: --person {person_id}: the crew has no such person_id; it has {crew}")
    return person_id


def _first_day(words: "WorkWords") -> date:
    """First local day with work that is not history; the first of all if everything is."""
    works = [work for work in words.schedule.work if not work.done] or words.schedule.work
    starts = [work.start for work in works] + [load.loaded_at for work in works for load in work.loads]
    return words.time.day(min(starts))
