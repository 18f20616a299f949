"""coatrun convert: a shop folder as a workbook, a workbook as a shop folder."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.talk import say, show, show_json


@command(
    "convert",
    "Write a shop folder as a workbook, or a workbook as a shop folder.",
    ("coatrun convert my-shop my-shop.xlsx", "coatrun convert my-shop.xlsx my-shop"),
    "A name that ends in .xlsx is a workbook, any other a folder. Both hold the same tables, and nothing is lost on the way or "
    "back. What is there already is never written over. Files and sheets that are no tables of a shop stay behind.",
)
@click.argument("shop", metavar="FROM", type=PATH)
@click.argument("to", metavar="TO", type=PATH)
@as_json
def convert(shop: Path, to: Path, as_json: bool) -> None:
    """Read, check, write."""
    from scheduler.shop.read import is_workbook, read_shop

    if to.exists() and (not to.is_dir() or any(to.iterdir())):
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {to}: is there already; give a new name")
    made = read_shop(shop)
    if is_workbook(to):
        from scheduler.shop.workbook.write import write_workbook

        try:
            write_workbook(made, to)
        except ValueError as error:
            raise Failed(ExitCode.BAD_INPUT, f"coatrun: {to}: {error}") from error
    else:
        from scheduler.shop.write import write_shop

        write_shop(made, to)
    files = [to.name] if to.is_file() else sorted(path.name for path in to.iterdir())
    if as_json:
        show_json("convert", ExitCode.DONE, {"from": str(shop), "to": str(to), "files": files})
        return
    show(str(to))
    say(f"The same shop, written anew. Try it: coatrun check {to}")
