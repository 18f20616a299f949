"""The place of a page that a command is asked to write, looked at before the work begins."""

from pathlib import Path
from typing import Final

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed

ENDINGS: Final = (".html", ".htm")


def page_file(path: Path | None) -> None:
    """Look at the place of a page before anything is worked out.

    Raises
    ------
    Failed
        If it is not named like a page, is a folder, or lies in a folder that is not there.
    """
    if path is None:
        return
    if path.suffix.lower() not in ENDINGS:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {path}: a chart is a page; give a name that ends in .html")
    if path.is_dir():
        raise Failed(
            ExitCode.BAD_INPUT, f"coatrun: {path}: is a folder; give the name of a file in it, as in {path / 'chart.html'}"
        )
    if not path.parent.is_dir():
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {path}: there is no folder {path.parent}; make it first")
