"""coatrun quote: when a customer could have units back, from a saved schedule."""

from contextlib import nullcontext
from datetime import date, datetime
from pathlib import Path
from typing import Final

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.durations import moment
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.limits import seed
from scheduler.cli.saved import schedule_file, shop_and_run
from scheduler.cli.talk import show, show_json

SEARCH_S: Final = 0.6


def _day(_ctx: click.Context, _param: click.Parameter, text: str | None) -> date | None:
    if text is None:
        return None
    try:
        return date.fromisoformat(text.strip())
    except ValueError as error:
        msg = f"'{text}' is no day; write it as 2013-10-05"
        raise click.BadParameter(msg) from error


@command(
    "quote",
    "Say when units like known ones could be handed back.",
    (
        "coatrun quote my-shop 5xH1 --arrive 2013-10-12",
        "coatrun quote my-shop 5xH1 2xB3 --arrive 2013-10-12T07:00 --spare 2",
        "coatrun quote my-shop 5xH1 --arrive 2013-10-12 --hold 2013-10-05 --customer 'City of Ost'",
    ),
    "Each line is a count and a unit of the shop that the new ones are like. The first date moves nothing of the saved plan; the "
    "second lets others move as long as no order is later than promised. --hold keeps the capacity until that day: plans and "
    "quotes respect it until it lapses or is released.",
)
@click.argument("folder", metavar="DIR", type=PATH)
@click.argument("lines", metavar="COUNTxUNIT...", nargs=-1, required=True)
@click.option("--arrive", metavar="MOMENT", callback=moment, help="When the units are there; the start of the plan if not given.")
@click.option("--spare", metavar="N", type=click.IntRange(1), help="Most units that the customer can spare at once.")
@click.option("--told", metavar="RUN_DIR", type=PATH, help="The run to quote from: DIR itself, or reports/<name of DIR>.")
@click.option("--nothing-moved", is_flag=True, help="Answer from what is free alone.")
@click.option(
    "--search", metavar="S", type=click.FloatRange(0, min_open=True), default=SEARCH_S, help="Seconds for moves and proof; 0.6."
)
@click.option("--moves", metavar="N", type=click.IntRange(1), help="Count moves, not seconds: the answer can be repeated.")
@click.option("--hold", metavar="DAY", callback=_day, help="Keep the capacity until this day.")
@click.option("--customer", metavar="NAME", default="Quote", help="With --hold: for whom.")
@seed
@as_json
def quote(
    folder: Path,
    lines: tuple[str, ...],
    arrive: datetime | None,
    spare: int | None,
    told: Path | None,
    nothing_moved: bool,
    search: float,
    moves: int | None,
    hold: date | None,
    customer: str,
    seed: int,
    as_json: bool,
) -> None:
    """Answer, and keep the capacity if that is wanted."""
    from scheduler.cli.fresh_room import room_kept_fresh
    from scheduler.cli.quote_question import Question
    from scheduler.cli.quote_text import quote_data, quote_text
    from scheduler.cli.quoting import answer, keep, refuse_lapsed

    folder, told = shop_and_run(folder, told)
    asked = Question(folder, lines, arrive, spare, told, nothing_moved, search, moves, seed)
    if hold is not None:
        refuse_lapsed(asked, hold)
    found = answer(asked)
    with nullcontext() if hold is None else room_kept_fresh(folder, schedule_file(told or folder)):
        held = None if hold is None else keep(asked, found, hold, customer)
        if as_json:
            show_json("quote", ExitCode.DONE, {**quote_data(found), "hold": held})
        else:
            show(quote_text(found, held))
