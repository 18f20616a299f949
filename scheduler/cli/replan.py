"""coatrun replan: three choices from now on, and the one that is taken."""

from datetime import datetime, timedelta
from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.durations import length, moment
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.limits import moves, seed, settings, time_limit
from scheduler.cli.page_file import page_file
from scheduler.cli.saved import shop_and_run
from scheduler.cli.talk import show, show_json
from scheduler.shop.whole_file import put_file

DEFAULT_S = 8.0


@command(
    "replan",
    "Plan again from now on: repair only, few changes, or best.",
    (
        "coatrun replan my-shop",
        "coatrun replan my-shop --now 2013-10-09T07:00 --frozen 1d",
        "coatrun replan my-shop --chart choices.html",
        "coatrun replan my-shop --take few",
    ),
    "What has happened is history, pins hold, and what starts within the frozen period stays where people were told if it still "
    "can. Each choice comes with its lateness, its material and what moves for whom; nothing is written unless one is taken. "
    "DIR is the shop folder; the plan that people were told is that of reports/<name of DIR>, or of --told.",
)
@click.argument("folder", metavar="DIR", type=PATH)
@click.option("--told", metavar="RUN_DIR", type=PATH, help="The run or schedule.json that people were told.")
@click.option("--now", metavar="MOMENT", callback=moment, help="When it is; by itself the clock, if the plan runs by then.")
@click.option("--frozen", metavar="LENGTH", callback=length, help="Hours or days from now in which nothing moves: 36h, 2d.")
@click.option("--price", type=click.FloatRange(0), metavar="DAYS", default=0.3, help="Weighted days late that a move is worth.")
@click.option("--take", type=click.Choice(("repair", "few", "best")), help="Write this choice in place of the plan told.")
@click.option("--out", metavar="DIR", type=PATH, help="With --take: another folder for the report.")
@click.option("--chart", metavar="FILE", type=PATH, help="Write a page with the choices side by side.")
@time_limit
@seed
@moves
@as_json
def replan(
    folder: Path,
    told: Path | None,
    now: datetime | None,
    frozen: timedelta | None,
    price: float,
    take: str | None,
    out: Path | None,
    chart: Path | None,
    time_limit: float | None,
    seed: int,
    moves: int | None,
    as_json: bool,
) -> None:
    """Show the choices, write the one that is taken."""
    from scheduler.cli.replan_text import choices_data, choices_html, choices_text
    from scheduler.cli.replanning import Asked, run_replan

    page_file(chart)
    folder, told = shop_and_run(folder, told)
    limits = settings(time_limit or (DEFAULT_S if moves is None else None), seed, moves)
    run = run_replan(Asked(folder, told, now, frozen, price, take, out), limits)
    if chart is not None:
        put_file(chart, choices_html(run))
    if as_json:
        show_json("replan", ExitCode.DONE, choices_data(run))
    else:
        show(choices_text(run))
