"""coatrun demo: the main job on the scenario that comes with coatrun."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.demo_folder import demo_folder
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.limits import moves, seed, settings, time_limit
from scheduler.cli.talk import say, show, show_json


@command(
    "demo",
    "Plan the demo: the winter-service fleet of an invented county.",
    ("coatrun demo", "coatrun demo --time-limit 60 --out reports/demo", "coatrun demo --moves 2000 --seed 7"),
    "Some forty hopper bodies and plough blades have to be coated before the first frost; the weather is real.",
)
@click.option(
    "--out", metavar="DIR", type=PATH, default=Path("reports") / "demo", show_default=True, help="Folder of the report."
)
@time_limit
@seed
@moves
@as_json
def demo(out: Path, time_limit: float | None, seed: int, moves: int | None, as_json: bool) -> None:
    """Plan the demo."""
    from scheduler.cli.planning import run_plan

    folder = demo_folder()
    run = run_plan(folder, out, settings(time_limit, seed, moves))
    from scheduler.cli.summary import summary_data, summary_text

    if as_json:
        show_json("demo", ExitCode.DONE, {"folder": str(folder), **summary_data(run)})
        return
    say(f"The shop folder of the demo is {folder}.")
    show(summary_text(run))
