"""coatrun new: a small, valid shop folder to start from."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.talk import say, show, show_json


@command(
    "new",
    "Write a small, valid shop folder to start from.",
    ("coatrun new my-shop", "coatrun new my-shop && coatrun plan my-shop"),
    "It has a few orders, units, bays and people and two weeks of weather, all invented. Put your own rows in their place; "
    "datapackage.json in the folder says what each column means.",
)
@click.argument("folder", metavar="DIR", type=PATH)
@as_json
def new(folder: Path, as_json: bool) -> None:
    """Write the template."""
    from scheduler.shop.new import new_shop

    new_shop(folder)
    files = sorted(path.name for path in folder.iterdir())
    if as_json:
        show_json("new", ExitCode.DONE, {"folder": str(folder), "files": files})
        return
    show("\n".join(str(folder / name) for name in files))
    say(f"A shop to start from. Change its tables, then: coatrun check {folder}")
