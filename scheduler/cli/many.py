"""coatrun many: several shops at once, on this machine or on several."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.limits import goals, moves, seed, settings, time_limit, workers
from scheduler.cli.saved import REPORTS
from scheduler.cli.talk import show, show_json


@command(
    "many",
    "Plan several shops at once, each as coatrun plan does.",
    (
        "coatrun many north south --jobs 2",
        "coatrun many shops/* --out reports/monday --time-limit 120",
        "coatrun many north south --cluster tcp://10.0.0.5:8786",
    ),
    "A report goes into place as soon as its shop is planned. A shop that fails is told and the others are planned all the same; "
    "the exit code is then that of the first that failed. Ctrl-C keeps the best schedules so far. For several machines install "
    "the extra cluster on each, start dask scheduler on one and dask worker ADDRESS on the others.",
)
@click.argument("folders", metavar="DIR...", type=PATH, nargs=-1, required=True)
@click.option("--out", metavar="DIR", type=PATH, default=REPORTS, show_default=True, help="Folder of the reports.")
@click.option("--jobs", type=click.IntRange(1, 256), metavar="N", default=2, show_default=True, help="Shops at the same time.")
@click.option("--cluster", metavar="ADDRESS", help="Scheduler of a cluster that plans them, in place of this machine.")
@time_limit
@seed
@moves
@workers
@goals
@as_json
def many(
    folders: tuple[Path, ...],
    out: Path,
    jobs: int,
    cluster: str | None,
    time_limit: float | None,
    seed: int,
    moves: int | None,
    workers: int,
    goals: tuple[str, ...],
    as_json: bool,
) -> None:
    """Plan each, write each, sum up."""
    from scheduler.cli.planning_many import exit_code, run_many, shops_data, shops_table

    shops = run_many(folders, out, jobs, cluster, settings(time_limit, seed, moves, workers, goals))
    code = exit_code(shops)
    if as_json:
        show_json("many", code, {"shops": shops_data(shops)})
    else:
        show(shops_table(shops))
    raise click.exceptions.Exit(code.value)
