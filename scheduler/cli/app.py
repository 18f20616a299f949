"""The commands of coatrun, put together; each is in a file of its own name."""

from typing import Final

import click

from scheduler.cli.check import check
from scheduler.cli.command import help_text
from scheduler.cli.compare import compare
from scheduler.cli.completion import completion
from scheduler.cli.convert import convert
from scheduler.cli.dates import dates
from scheduler.cli.day import day
from scheduler.cli.demo import demo
from scheduler.cli.doctor import doctor
from scheduler.cli.exit_codes import EPILOG
from scheduler.cli.feed import feed
from scheduler.cli.goal_costs import goal_costs
from scheduler.cli.holds import holds
from scheduler.cli.many import many
from scheduler.cli.material import material
from scheduler.cli.new import new
from scheduler.cli.paper import paper
from scheduler.cli.plan import plan
from scheduler.cli.quote import quote
from scheduler.cli.record import record
from scheduler.cli.replan import replan
from scheduler.cli.talk import show
from scheduler.cli.what_if import what_if
from scheduler.cli.why import why

EXAMPLES: Final = (
    "coatrun demo",
    "coatrun new my-shop && coatrun check my-shop && coatrun plan my-shop",
    "coatrun dates reports/my-shop",
)
SAYS: Final = (
    "Schedules the refit of a fleet of steel units with a cartridge coating: a folder of tables in, a checked schedule with "
    "day sheets, pick lists and delivery dates out."
)


class InOrder(click.Group):
    """Commands in the order in which a person needs them, not in that of the alphabet."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order in which they were added."""
        return list(self.commands)


def _show_version(ctx: click.Context, _param: click.Parameter, wanted: bool) -> None:
    if not wanted:
        return
    from importlib.metadata import PackageNotFoundError, version

    try:
        show(f"coatrun {version('coatrun')}")
    except PackageNotFoundError:
        show("coatrun, run from its source")
    ctx.exit()


@click.group(
    cls=InOrder,
    help=help_text(EXAMPLES, SAYS),
    epilog=EPILOG,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 110},
)
@click.option("--version", is_flag=True, is_eager=True, expose_value=False, callback=_show_version, help="Show the version.")
def app() -> None:
    """Options that belong to no command."""


for _command in (
    new,
    check,
    convert,
    plan,
    many,
    day,
    paper,
    dates,
    material,
    feed,
    record,
    replan,
    compare,
    quote,
    holds,
    why,
    what_if,
    goal_costs,
    demo,
    doctor,
    completion,
):
    app.add_command(_command)
