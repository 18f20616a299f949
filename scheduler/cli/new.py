"""coatrun new: a small, valid shop to start from, as a folder or a workbook."""

from pathlib import Path

import click

from scheduler.cli.command import PATH, as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.talk import say, show, show_json


@command(
    "new",
    "Write a small, valid shop to start from, as a folder or a workbook.",
    ("coatrun new my-shop", "coatrun new my-shop --workbook", "coatrun new my-shop && coatrun plan my-shop"),
    "It has a few orders, units, bays and people and two weeks of weather, all invented. Put your own rows in their place; "
    "datapackage.json in the folder says what each column means; in a workbook the note of its head does. A workbook is "
    "one XLSX file with a sheet for each table, written as DIR.xlsx.",
)
@click.argument("folder", metavar="DIR", type=PATH)
@click.option("--workbook", is_flag=True, help="Write one XLSX file in place of a folder.")
@as_json
def new(folder: Path, workbook: bool, as_json: bool) -> None:
    """Write the template."""
    from scheduler.shop.new import new_shop, new_workbook
    from scheduler.shop.tables import WORKBOOK_END

    is_book = workbook or folder.suffix.lower() == WORKBOOK_END
    place = folder if folder.suffix.lower() == WORKBOOK_END or not is_book else folder.with_name(folder.name + WORKBOOK_END)
    if is_book:
        new_workbook(place)
    else:
        new_shop(place)
    files = [place.name] if is_book else sorted(path.name for path in place.iterdir())
    if as_json:
        show_json("new", ExitCode.DONE, {"folder": str(place.parent if is_book else place), "files": files})
        return
    show("\n".join(str((place.parent if is_book else place) / name) for name in files))
    say(f"A shop to start from. Change its tables, then: coatrun check {place}")
