"""coatrun plan: a shop folder in, a checked schedule with its report out."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.limits import goals, moves, seed, settings, time_limit, workers
from scheduler.cli.saved import report_folder
from scheduler.cli.talk import show, show_json


def _xlsx(_ctx: click.Context, _param: click.Parameter, path: Path | None) -> Path | None:
    if path is not None and path.suffix.lower() != ".xlsx":
        msg = f"{path}: a workbook's name ends in .xlsx"
        raise click.BadParameter(msg)
    return path


@command(
    "plan",
    "Plan a shop folder or workbook and write the report.",
    (
        "coatrun plan my-shop",
        "coatrun plan my-shop --out reports/monday --time-limit 120",
        "coatrun plan my-shop --moves 2000 --seed 7 --json",
        "coatrun plan my-shop --goals material,lateness",
    ),
    "The schedule is checked against every rule before anything is written; a run that fails leaves an earlier report as it "
    "was. Ctrl-C gives the best schedule so far. While the search goes on, it lies in <report>.unfinished: a run that is killed "
    "leaves it there.",
)
@click.argument("folder", metavar="DIR", type=PATH)
@click.option("--out", metavar="DIR", type=PATH, help="Folder of the report; reports/<name of the shop folder> if not given.")
@click.option("--workbook", metavar="FILE", type=PATH, callback=_xlsx, help="The plan as XLSX; plan.xlsx in the report's folder.")
@time_limit
@seed
@moves
@workers
@goals
@as_json
def plan(
    folder: Path,
    out: Path | None,
    workbook: Path | None,
    time_limit: float | None,
    seed: int,
    moves: int | None,
    workers: int,
    goals: tuple[str, ...],
    as_json: bool,
) -> None:
    """Plan, check, write, sum up."""
    from scheduler.cli.planning import run_plan

    run = run_plan(folder, out or report_folder(folder), settings(time_limit, seed, moves, workers, goals), workbook)
    from scheduler.cli.summary import summary_data, summary_text

    if as_json:
        show_json("plan", ExitCode.DONE, summary_data(run))
    else:
        show(summary_text(run))
