"""A small valid shop to start from, as a folder or a workbook."""

from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

from scheduler.shop.faults import BadInputError, Fault
from scheduler.shop.read import read_shop
from scheduler.shop.tables import PACKAGE_FILE
from scheduler.shop.write import package_text


def new_shop(folder: Path) -> None:
    """Write the template shop: three orders, six units, two bays, five people and two weeks of summer weather.

    Parameters
    ----------
    folder : Path
        New, or an empty folder.

    Raises
    ------
    BadInputError
        If it is a file, has something in it, or cannot be written.
    """
    _require_free(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for source in files("scheduler.shop").joinpath("template").iterdir():
            (folder / source.name).write_bytes(source.read_bytes())
        site = read_shop(folder).site
        (folder / PACKAGE_FILE).write_text(package_text(site), encoding="utf-8", newline="\n")
    except OSError as error:
        raise _refused(folder, f"the folder cannot be written ({error.strerror})", "choose another place") from error


def new_workbook(path: Path) -> None:
    """Write the template shop as a workbook.

    Parameters
    ----------
    path : Path
        New XLSX file.

    Raises
    ------
    BadInputError
        If there is something of that name, or it cannot be written.
    """
    from scheduler.shop.workbook.write import write_workbook

    if path.exists():
        raise _refused(path, "there is something of that name", "give the name of a new workbook")
    with TemporaryDirectory() as place:
        new_shop(Path(place) / "shop")
        shop = read_shop(Path(place) / "shop")
    try:
        write_workbook(shop, path)
    except OSError as error:
        raise _refused(path, f"the workbook cannot be written ({error.strerror})", "choose another place") from error


def _require_free(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise _refused(folder, "this is a file", "give the name of a new folder")
    if folder.exists() and any(folder.iterdir()):
        raise _refused(folder, "there is something in the folder", "give the name of a new or an empty folder")


def _refused(folder: Path, problem: str, cure: str) -> BadInputError:
    return BadInputError([Fault(str(folder), None, None, None, problem, cure)])
