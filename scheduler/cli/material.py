"""coatrun material: what became of the material of a plan, what to order, why packs were opened, what the warmers hold."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.saved import load_schedule, schedule_file
from scheduler.cli.shop_of_run import shop_of_run
from scheduler.cli.talk import say, show, show_json

if TYPE_CHECKING:
    from scheduler.documents.words.work_words import WorkWords


@command(
    "material",
    "Show the statement of material of a plan, what to order, and why packs are opened.",
    ("coatrun material reports/my-shop", "coatrun material reports/my-shop/schedule.json --json"),
    "What stood opened and what the plan opens, sprayed, purged, in heels, left and lapsed, beside the fewest packs that any "
    "plan opens; what runs out when and how much to order by when; for each pack opened beyond the fewest the reason. --json "
    "has the loading list of the warmers and the record of lots and cartridges as well. A schedule that breaks a rule is "
    "shown with a warning.",
)
@click.argument("place", metavar="DIR_OR_SCHEDULE", type=PATH)
@click.option("--shop", metavar="DIR", type=PATH, help="Shop folder or workbook, where the run does not say it.")
@as_json
def material(place: Path, shop: Path | None, as_json: bool) -> None:
    """Show the material of a plan."""
    words = _words(place, shop)
    from scheduler.check.check import check_schedule
    from scheduler.cli.material_data import material_data
    from scheduler.cli.material_text import material_text
    from scheduler.documents.state.plan_state import checked

    report = check_schedule(words.shop, words.schedule)
    code = ExitCode.DONE if report.ok else ExitCode.REFUSED
    if as_json:
        show_json("material", code, {"ok": report.ok, **material_data(words)})
    else:
        show(material_text(words, warning="" if report.ok else checked(report)))
    raise click.exceptions.Exit(code.value)


def _words(place: Path, shop_folder: Path | None) -> "WorkWords":
    from scheduler.documents.words.work_words import WorkWords

    path = schedule_file(place)
    schedule = load_schedule(path)
    shop, same = shop_of_run(path, schedule, shop_folder)
    if not same:
        say("The shop folder has changed since this schedule was made; stock and sheets are those of now.")
    return WorkWords(shop, schedule)
