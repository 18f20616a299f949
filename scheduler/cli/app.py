"""The commands of coatrun, put together; each is in a file of its own name and loaded when it is asked for."""

from importlib import import_module
from typing import Final

import click
from click.exceptions import NoSuchCommand

from scheduler.cli.exit_codes import EPILOG
from scheduler.cli.help_text import help_text
from scheduler.cli.talk import show

EXAMPLES: Final = (
    "coatrun demo",
    "coatrun new my-shop && coatrun check my-shop && coatrun plan my-shop",
    "coatrun dates reports/my-shop",
)
SAYS: Final = (
    "Schedules the refit of a fleet of steel units with a cartridge coating: a folder of tables in, a checked schedule with "
    "day sheets, pick lists and delivery dates out."
)


GROUPS: Final = {
    "Start": ("new", "check", "convert"),
    "Plan": ("plan", "many", "what-if", "goal-costs"),
    "The day": ("day", "record", "replan", "compare", "paper", "material", "feed"),
    "Sales": ("dates", "quote", "holds", "why"),
    "The program": ("demo", "doctor", "completion"),
}
"""By who types them, in the order in which a person needs them."""
COMMANDS: Final = tuple(name for group in GROUPS.values() for name in group)


class Commands(click.Group):
    """The commands, each loaded when it is asked for: whoever wants a date does not wait for the others."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order in which a person needs them."""
        del ctx
        return list(COMMANDS)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the commands group by group, all names on one width."""
        widest = max(map(len, COMMANDS))
        for head, names in GROUPS.items():
            with formatter.section(head):
                rows = [(name.ljust(widest), self._short(ctx, name)) for name in names]
                formatter.write_dl(rows)

    def _short(self, ctx: click.Context, name: str) -> str:
        found = self.get_command(ctx, name)
        return "" if found is None else found.get_short_help_str(limit=400)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load a command from the file of its name; None if there is none."""
        del ctx
        if cmd_name not in COMMANDS:
            return None
        name = cmd_name.replace("-", "_")
        found: click.Command = getattr(import_module(f"scheduler.cli.{name}"), name)
        return found

    def resolve_command(self, ctx: click.Context, args: list[str]) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command that was typed; a slip is answered with the nearest name, for which nothing has to be loaded."""
        try:
            return super().resolve_command(ctx, args)
        except NoSuchCommand as slip:
            raise NoSuchCommand(slip.command_name, possibilities=COMMANDS, ctx=ctx) from slip


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
    cls=Commands,
    help=help_text(EXAMPLES, SAYS),
    epilog=EPILOG,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 110},
)
@click.option("--version", is_flag=True, is_eager=True, expose_value=False, callback=_show_version, help="Show the version.")
def app() -> None:
    """Options that belong to no command."""
