"""The outside of a workbook: whether the archive can be opened at all, and opened without harm.

An XLSX file is a ZIP archive of XML parts (ECMA-376). A small one can unpack to more than a machine holds, and XML can define
words that grow when they are read. Both are looked for before anything else reads the file: sizes as they are declared and as
they really stream, and definitions (DOCTYPE), which no spreadsheet program writes.
"""

import io
import zipfile
import zlib
from pathlib import Path, PurePosixPath
from typing import Final, NoReturn
from xml.parsers.expat import ExpatError, ParserCreate

from scheduler.shop.faults import Fault
from scheduler.shop.places import similar_place
from scheduler.shop.tables import WORKBOOK_END
from scheduler.shop.text_file import Unreadable

LARGEST_FILE: Final = 32_000_000
LARGEST_UNPACKED: Final = 50_000_000
"""A shop of 400 units with a typical year unpacks to 10 MB; read into memory a part is twenty times as large."""
MOST_MEMBERS: Final = 5_000
_CHUNK: Final = 1 << 16
_OLD_FORM: Final = b"\xd0\xcf\x11\xe0"
_ENCRYPTED: Final = 0x1
_SAVE: Final = "open it in a spreadsheet program and save it again as .xlsx"


class _Definition(Exception):  # noqa: N818
    """A part defines words of its own."""


def checked_archive(path: Path) -> bytes:
    """Read a workbook's bytes and look through the archive.

    Returns
    -------
    bytes
        The whole file; its parts unpack to no more than 50 MB and hold no definitions.

    Raises
    ------
    Unreadable
        If it is missing, too large, no archive, damaged, locked by a password, or a trap.
    """
    data = _bytes(path)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            _look_at_names(path, archive)
            _look_at_parts(path, archive)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, OSError, ValueError) as error:
        if isinstance(error, Unreadable):
            raise
        _refuse(path, f"the workbook is damaged or is none ({_plain(error)})", _SAVE, error)
    return data


def _bytes(path: Path) -> bytes:
    try:
        if not path.is_file():
            meant = similar_place(path, lambda other: other.suffix.lower() == WORKBOOK_END)
            cure = "give the name of a workbook, or of a shop folder"
            _refuse(path, "there is no such file", cure if meant is None else f"write {meant} if that is meant, or {cure}")
        if path.stat().st_size > LARGEST_FILE:
            _refuse(path, f"the file is larger than {LARGEST_FILE // 1_000_000} MB", "leave out what the plan does not need")
        data = path.read_bytes()
    except OSError as error:
        reason = error.strerror or type(error).__name__
        _refuse(path, f"the file cannot be read ({reason})", "look at its permissions", error)
    if not data:
        _refuse(path, "the file is empty", _SAVE)
    if data.startswith(_OLD_FORM):
        _refuse(path, "the file has a password or the older form .xls", "save it without a password as .xlsx")
    return data


def _look_at_names(path: Path, archive: zipfile.ZipFile) -> None:
    members = archive.infolist()
    if len(members) > MOST_MEMBERS:
        _refuse(path, f"more than {MOST_MEMBERS:,} parts in the archive", _SAVE)
    if sum(member.file_size for member in members) > LARGEST_UNPACKED:
        _too_large(path)
    for member in members:
        name = PurePosixPath(member.filename.replace("\\", "/"))
        if name.is_absolute() or ".." in name.parts or ":" in member.filename:
            _refuse(path, f"a part of the archive would lie outside it ({member.filename[:60]!r})", _SAVE)
        if member.flag_bits & _ENCRYPTED:
            _refuse(path, "the archive has a password", "save it without a password as .xlsx")


def _look_at_parts(path: Path, archive: zipfile.ZipFile) -> None:
    """Stream every part once: what it declares of its size need not be true."""
    unpacked = 0
    for member in archive.infolist():
        is_xml = member.filename.endswith((".xml", ".rels"))
        parser = ParserCreate()
        parser.StartDoctypeDeclHandler = _defines
        with archive.open(member) as part:
            reading = True
            while chunk := part.read(_CHUNK):
                unpacked += len(chunk)
                if unpacked > LARGEST_UNPACKED:
                    _too_large(path)
                try:
                    if reading:
                        parser.Parse(chunk)
                except _Definition as error:
                    _refuse(path, f"the part {member.filename} defines XML entities", _SAVE, error)
                except ExpatError as error:
                    if is_xml:
                        _refuse(path, f"the part {member.filename} is no valid XML ({error})", _SAVE, error)
                    reading = False  # a picture or the like


def _defines(*_args: object) -> None:
    raise _Definition


def _too_large(path: Path) -> NoReturn:
    size = f"the workbook unpacks to more than {LARGEST_UNPACKED // 1_000_000} MB"
    _refuse(path, size, "delete empty rows and columns that are formatted, and what the plan does not need")


def _plain(error: Exception) -> str:
    return " ".join(str(error).split())[:120] or type(error).__name__


def _refuse(path: Path, problem: str, cure: str, cause: Exception | None = None) -> NoReturn:
    raise Unreadable(Fault(path.name, None, None, None, problem, cure)) from cause
