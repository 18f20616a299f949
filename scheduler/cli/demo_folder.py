"""Where the demo's shop folder is: beside the package in a source checkout, among the shared files of an installation."""

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed

CHECKOUT: Final = Path(__file__).resolve().parents[2] / "demo" / "county"
INSTALLED: Final = "share/coatrun/demo/county/site.toml"


def demo_folder() -> Path:
    """Find the demo.

    Raises
    ------
    Failed
        With the places where it was looked for.
    """
    places = (CHECKOUT, *_installed())
    for folder in places:
        if (folder / "site.toml").is_file():
            return folder
    looked = ", ".join(map(str, places))
    says = f"coatrun: the demo did not come with this installation; looked in {looked}; get the source, or start with coatrun new"
    raise Failed(ExitCode.BAD_INPUT, says)


def _installed() -> Iterator[Path]:
    """Yield the folder from the list of files that the installer has kept, wherever it has put them."""
    from importlib.metadata import PackageNotFoundError, distribution

    try:
        files = distribution("coatrun").files or []
    except PackageNotFoundError:
        return
    for file in files:
        if file.as_posix().endswith(INSTALLED):
            yield Path(str(file.locate())).resolve().parent
