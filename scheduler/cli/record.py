"""coatrun record: what happened, as the foreman types it, and the state now."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.record_options import SAID


def _said(function: click.decorators.FC) -> click.decorators.FC:
    for name, metavar, help_text in reversed(SAID):
        function = click.option(f"--{name}", f"said_{name}", metavar=metavar, help=help_text)(function)
    return function


@command(
    "record",
    "Record what happened: started, finished, failed, used, measured, arrived, away, down, delivered.",
    (
        "coatrun record reports/my-shop started QM-3/coat-2 --at 08:10",
        "coatrun record reports/my-shop finished QM-3/coat-2",
        "coatrun record reports/my-shop stopped QM-3/abrade --why 'compressor down'",
        "coatrun record reports/my-shop stopped QM-3/coat-2 --why rain --done 60%",
        "coatrun record reports/my-shop failed QM-3/coat-2 --cause blisters --share 5",
        "coatrun record reports/my-shop used LN-167#003 --ml 620 --left recapped",
        "coatrun record reports/my-shop reading QM-3 --steel 14.2 --air 16 --dew 9",
        "coatrun record reports/my-shop arrived QM-4 --at 'tomorrow 07:00'",
        "coatrun record reports/my-shop away Alma --until mon",
        "coatrun record reports/my-shop down C1 --until 'thu 12:00' --why 'fan belt'",
        "coatrun record reports/my-shop forecast --from 'tue 10:00' --until 'tue 17:00' --rain 2",
        "coatrun record reports/my-shop as-planned --until 15:30 --except QM-4",
        "coatrun record reports/my-shop correct 3fa2b1c9 --at 09:40",
        "coatrun record reports/my-shop",
    ),
    "Reports are added to events.jsonl beside the schedule and never changed; a correction is a report too. What does not fit "
    "with what is recorded is refused with the cure; the same report twice is recorded once. Without a report the state now is "
    "shown, with --list every event. What nobody has reported has not happened: as-planned reports in one go what went as "
    "planned.",
)
@click.argument("place", metavar="RUN_DIR", type=PATH)
@click.argument("words", metavar="[WHAT [WHOM]]", nargs=-1)
@_said
@click.option("--by", metavar="NAME", default="", help="Who reports it.")
@click.option("--note", metavar="TEXT", default="", help="Anything else.")
@click.option("--except", "besides", metavar="UNIT[/STEP]", multiple=True, help="as-planned: what did not go as planned.")
@click.option("--withdraw", is_flag=True, help="correct: it did not happen.")
@click.option(
    "--from-file", metavar="CSV", type=PATH, help="Reports from a table with the columns what, about, at, until, ml ..."
)
@click.option("--keep-good", is_flag=True, help="--from-file: record the good rows although others are wrong.")
@click.option("--list", "listing", is_flag=True, help="Show every event.")
@click.option("--now", metavar="TIME", help="The clock to go by; that of the computer if not given.")
@click.option("--shop", metavar="DIR", type=PATH, help="Shop folder, if it is not where it was when the plan was made.")
@as_json
def record(
    place: Path,
    words: tuple[str, ...],
    by: str,
    note: str,
    besides: tuple[str, ...],
    withdraw: bool,
    from_file: Path | None,
    keep_good: bool,
    listing: bool,
    now: str | None,
    shop: Path | None,
    as_json: bool,
    **said: str | None,
) -> None:
    """Record, or show what is recorded."""
    from scheduler.cli.recording import Typed, record_typed

    told = {name.removeprefix("said_"): text for name, text in said.items() if text is not None}
    told |= {name: text for name, text in (("by", by), ("note", note)) if text}
    typed = Typed(words, told, besides, withdraw, from_file, keep_good, listing, now)
    record_typed(place, shop, typed, as_json=as_json)
