"""A text file of a shop folder as UTF-8, or the one fault that says why it cannot be read."""

from pathlib import Path
from typing import Final

from scheduler.shop.faults import Fault

LARGEST_BYTES: Final = 64_000_000
_UTF16: Final = (b"\xff\xfe", b"\xfe\xff")
_AS_UTF8: Final = "save it again as UTF-8"


class Unreadable(ValueError):  # noqa: N818  (reads as a sentence where it is raised and caught)
    """A file that cannot be read at all, with the fault that says why."""

    def __init__(self, fault: Fault) -> None:
        self.fault = fault
        super().__init__(fault.text())


def read_text(path: Path) -> str:
    """Read a file as UTF-8, with or without a byte order mark.

    Raises
    ------
    Unreadable
        If the file is missing, no file, too large, empty, not UTF-8 or has NUL characters in it.
    """
    data = _bytes(path)
    if not data.strip():
        raise _unreadable(path, "the file is empty", "fill it in, or delete it if the table is optional")
    if data.startswith(_UTF16) or data[:2].count(0) == 1:
        raise _unreadable(path, "the file is in UTF-16", _AS_UTF8)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _unreadable(path, "the file is not in UTF-8", _AS_UTF8, data.count(b"\n", 0, error.start) + 1) from error
    if "\0" in text:
        row = text.count("\n", 0, text.index("\0")) + 1
        raise _unreadable(path, "there is a NUL character in the file", "the file is damaged or no text: save it again", row)
    return text


def _bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise _unreadable(path, "this is a folder", "put a file there")
        if not path.is_file():
            raise _unreadable(path, "there is no such file", "add the file")
        if path.stat().st_size > LARGEST_BYTES:
            raise _unreadable(path, f"the file is larger than {LARGEST_BYTES // 1_000_000} MB", "split the plan or the file")
        return path.read_bytes()
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise _unreadable(path, f"the file cannot be read ({reason})", "look at its permissions") from error


def _unreadable(path: Path, problem: str, cure: str, row: int | None = None) -> Unreadable:
    return Unreadable(Fault(path.name, row, None, None, problem, cure))
