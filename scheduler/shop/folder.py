"""A shop folder as a source of tables."""

from pathlib import Path

from scheduler.shop.csv_table import read_csv
from scheduler.shop.faults import BadInputError, Fault
from scheduler.shop.places import similar_place
from scheduler.shop.raw_table import RawTable
from scheduler.shop.site_file import SiteFile, read_site
from scheduler.shop.tables import SITE_FILE, WORKBOOK_END


class Folder:
    """Files of a folder.

    Parameters
    ----------
    path : Path

    Raises
    ------
    BadInputError
        If there is no such folder.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        problem = None if path.is_dir() else "there is no such folder"
        if problem is not None and path.exists():
            problem = "this is a file, a shop is a folder or a workbook"
        if (path / "schedule.json").is_file() and not (path / SITE_FILE).exists():
            cure = "give the shop that it was made from; run.json in the folder says which"
            raise BadInputError([Fault(str(path), None, None, None, "this is the folder of a run and no shop", cure)])
        if problem is None and not (path / SITE_FILE).exists() and not any(path.glob("*.csv")):
            cure = "give the folder that holds site.toml, or write a shop to start from with: coatrun new DIR"
            raise BadInputError([Fault(str(path), None, None, None, "this folder holds no shop", cure)])
        if problem is not None:
            meant = similar_place(path, _is_shop)
            cure = "give the folder that holds site.toml, or a workbook whose name ends in .xlsx"
            cure = cure if meant is None else f"write {meant} if that is meant, or {cure}"
            raise BadInputError([Fault(str(path), None, None, None, problem, cure)])

    def names(self) -> list[str]:
        """Names of all files, sorted.

        Raises
        ------
        BadInputError
            If the folder cannot be read.
        """
        try:
            return sorted(path.name for path in self.path.iterdir())
        except OSError as error:
            problem = f"the folder cannot be read ({error.strerror or type(error).__name__})"
            raise BadInputError([Fault(str(self.path), None, None, None, problem, "look at its permissions")]) from error

    def site(self) -> SiteFile:
        """Settings of ``site.toml``."""
        return read_site(self.path)

    def table(self, file: str) -> RawTable:
        """Rows of a CSV file."""
        return read_csv(self.path / file)


def _is_shop(path: Path) -> bool:
    return (path / SITE_FILE).is_file() or path.suffix.lower() == WORKBOOK_END
