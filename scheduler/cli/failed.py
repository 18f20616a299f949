"""A command that cannot be done: its exit code, what a person is told and what a machine is told."""

import errno
import os
import traceback
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Final

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.interrupt import STOPPED
from scheduler.cli.text_table import text_table
from scheduler.shop.faults import BadInputError, Fault, shortened

MOST_FAULTS = 200
DISK_CURES: Final[Mapping[int, str]] = {
    errno.ENOSPC: "make room on the disk, or write to another one; no file was left half written",
    errno.EDQUOT: "make room, or write to another disk; no file was left half written",
    errno.EROFS: "write to another folder",
    errno.EACCES: "look at the permissions, or give another folder",
    errno.EPERM: "look at the permissions, or give another folder",
    errno.EEXIST: "a file stands where a folder has to be; give another name",
    errno.ENOTDIR: "a file stands where a folder has to be; give another name",
    errno.EISDIR: "a folder stands where a file has to be; give another name",
    errno.ENAMETOOLONG: "give a shorter name",
}
"""What helps, by the number that the system gives its answer."""


class Failed(Exception):  # noqa: N818
    """The end of a command that could not be done.

    Attributes
    ----------
    code : ExitCode
    says : str
        For a person.
    data : mapping
        For a machine, beside ``says``.
    """

    def __init__(self, code: ExitCode, says: str, data: Mapping[str, object] | None = None) -> None:
        self.code = code
        self.says = says
        self.data = data or {"says": says}
        super().__init__(says)


def failure_of(error: BaseException) -> Failed:
    """Put any exception into words; what nobody expected becomes one line to report."""
    if isinstance(error, Failed):
        return error
    if isinstance(error, BadInputError):
        return Failed(ExitCode.BAD_INPUT, fault_list(error.faults), {"faults": fault_data(error.faults)})
    if isinstance(error, KeyboardInterrupt):
        return Failed(ExitCode.INTERRUPTED, STOPPED)
    if isinstance(error, OSError) and (error.filename is not None or error.errno in DISK_CURES):
        return _of_the_disk(error)
    return _unexpected(error)


def _of_the_disk(error: OSError) -> Failed:
    """Say what the system answered, of which file where that is known, and what helps."""
    what, cure = error.strerror or type(error).__name__, DISK_CURES.get(error.errno or 0)
    where = f"{error.filename}: " if error.filename is not None else ""
    return Failed(ExitCode.BAD_INPUT, f"coatrun: {where}{what}{f'; {cure}' if cure else ''}")


def fault_list(faults: Iterable[Fault]) -> str:
    """Faults as a table with a head line that counts them, past 200 only their number; a fault of the whole is one line."""
    rows = tuple(faults)
    if len(rows) == 1 and rows[0].row is None:
        return f"1 fault: {rows[0].text()}"
    count = f"{len(rows):,} fault{'' if len(rows) == 1 else 's'}"
    place = "file" if all(f.sheet is None for f in rows) else "sheet"
    columns = (place, "row", "column", "value", "problem", "cure")
    cells = [(f.sheet or f.file, str(f.row or ""), f.column or "", shortened(f.value or ""), f.problem, f.cure) for f in rows]
    if place == "sheet":
        count = f"{count} in {rows[0].file}"
    more = [f"and {len(rows) - MOST_FAULTS:,} more; --json lists them all"] if len(rows) > MOST_FAULTS else []
    return "\n".join([count, "", text_table(columns, cells[:MOST_FAULTS]), *more])


def fault_data(faults: Iterable[Fault]) -> list[dict[str, object]]:
    """Faults for a machine."""
    names = ("file", "sheet", "row", "column", "value", "problem", "cure")
    return [{name: getattr(fault, name) for name in names} for fault in faults]


def _unexpected(error: BaseException) -> Failed:
    if os.environ.get("COATRUN_DEBUG") == "1":
        traceback.print_exception(error)
    where = traceback.extract_tb(error.__traceback__)[-1]
    what = " ".join(str(error).split()) or "no message"
    says = f"coatrun: this should not happen: {type(error).__name__} in {Path(where.filename).name} line {where.lineno}: {what}"
    hint = "Please report that line together with the input; COATRUN_DEBUG=1 shows the whole traceback."
    return Failed(ExitCode.INTERNAL, f"{says}\n{hint}", {"says": says})
