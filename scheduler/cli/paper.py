"""coatrun paper: a saved schedule as PDF, to print and hand out."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved_words import saved_words
from scheduler.cli.talk import say, show, show_json


@command(
    "paper",
    "Write a saved schedule as PDF for A4.",
    (
        "coatrun paper reports/my-shop",
        "coatrun paper reports/my-shop --people --units",
        "coatrun paper schedule.json --shop my-shop --out print",
    ),
    "plan.pdf has the state of the plan and a chart of each week, day-<date>.pdf the sheet and the pick list of each day. "
    "With --people there is crew-<date>.pdf with a sheet for each person, with --units units-<order>.pdf with the records that "
    "go with the units of an order; past 20 units it goes on in units-<order>+2.pdf. "
    "A schedule that breaks a rule is not printed. Needs the extra coatrun[pdf].",
)
@click.argument("place", metavar="DIR_OR_SCHEDULE", type=PATH)
@click.option("--shop", metavar="DIR", type=PATH, help="Shop folder, where the run does not say it.")
@click.option("--out", metavar="DIR", type=PATH, help="Where the files go; beside the schedule if not given.")
@click.option("--people", is_flag=True, help="Also a sheet for each person and day.")
@click.option("--units", is_flag=True, help="Also the records of all units.")
@as_json
def paper(place: Path, shop: Path | None, out: Path | None, people: bool, units: bool, as_json: bool) -> None:
    """Print a plan."""
    path, words = saved_words(place, shop)
    from scheduler.check.check import check_schedule
    from scheduler.cli.pdf import needs_pdf
    from scheduler.documents.paper.paper_files import Wanted, paper_files
    from scheduler.documents.state.plan_state import checked
    from scheduler.shop.whole_file import put_file

    needs_pdf()
    report = check_schedule(words.shop, words.schedule)
    if not report.ok:
        raise Failed(ExitCode.REFUSED, f"coatrun: {path}: {checked(report)} coatrun check says what is wrong")
    say("Laying out the pages.")
    folder = out or path.parent
    files = [put_file(folder / name, pdf) for name, pdf in paper_files(words, report, Wanted(people, units))]
    if as_json:
        show_json("paper", ExitCode.DONE, {"files": [str(file) for file in files]})
    else:
        show("\n".join(str(file) for file in files))
