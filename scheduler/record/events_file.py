"""The events file: JSON lines that are only ever added to; a line counts once it is whole."""

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from scheduler.record.events import ADAPTER, AnyEvent, fingerprint
from scheduler.record.lock import EVENTS_FILE

TORN_FILE: Final = "events.torn"
_NEW_LINE: Final = b"\n"


@dataclass(frozen=True, slots=True)
class BadLine:
    """A line of the file that does not count: its number from 1, and why."""

    line: int
    problem: str

    def text(self) -> str:
        """For a person."""
        cure = "where --list lacks what it said, record that again; the line may stay"
        return f"line {self.line} of {EVENTS_FILE} does not count: {self.problem}. Cure: {cure}"


@dataclass(frozen=True, slots=True)
class Recorded:
    """What an events file holds.

    Attributes
    ----------
    events : tuple of AnyEvent
        In the order in which they were recorded, each once.
    bad_lines : tuple of BadLine
        Lines that are damaged or were changed by hand.
    torn : bytes
        What stands after the last whole line.
    """

    events: tuple[AnyEvent, ...] = ()
    bad_lines: tuple[BadLine, ...] = ()
    torn: bytes = b""


def events_from(data: bytes) -> Recorded:
    """Read the content of an events file; a line that is not ended by a new line was never recorded."""
    *lines, torn = data.split(_NEW_LINE)
    events: dict[str, AnyEvent] = {}
    bad: list[BadLine] = []
    for number, line in enumerate(lines, start=1):
        event, problem = _event(line)
        if event is not None:
            events.setdefault(event.id, event)
        elif problem:
            bad.append(BadLine(number, problem))
    return Recorded(tuple(events.values()), tuple(bad), torn)


def _event(line: bytes) -> tuple[AnyEvent | None, str]:
    if not line.strip():
        return None, ""
    try:
        event = ADAPTER.validate_json(line)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        return None, f"it is damaged or of another version ({'.'.join(map(str, first['loc'])) or 'line'}: {first['msg']})"
    if event.id != fingerprint(event):
        return None, "it was changed by hand, and nothing is edited here"
    return event, ""


def read_events(folder: Path) -> Recorded:
    """Read what has been recorded in the folder of a run; nothing if there is no file yet.

    Raises
    ------
    OSError
        If the file is there and cannot be read.
    """
    path = folder / EVENTS_FILE
    return events_from(path.read_bytes()) if path.exists() else Recorded()


def add_lines(folder: Path, events: Sequence[AnyEvent]) -> None:
    """Add sealed events as whole lines that are on the disk when this returns; the caller holds the lock.

    A torn end of an earlier write is first put aside into a file of its own and then cut off.

    Raises
    ------
    OSError
        If the file cannot be written; what it held is still there.
    """
    path = folder / EVENTS_FILE
    block = b"".join(ADAPTER.dump_json(event) + _NEW_LINE for event in events)
    handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0), 0o644)
    try:
        whole = _set_aside(folder, handle)
        _write(handle, block, whole)
    finally:
        os.close(handle)
    _sync_folder(folder)


def _set_aside(folder: Path, handle: int) -> int:
    """Cut off what stands after the last whole line, and return the length of what is left."""
    size = os.fstat(handle).st_size
    os.lseek(handle, 0, os.SEEK_SET)
    data = b""
    while len(data) < size:
        data += os.read(handle, size - len(data))
    whole = data.rfind(_NEW_LINE) + 1
    if whole < size:
        with (folder / TORN_FILE).open("ab") as aside:
            aside.write(data[whole:] + _NEW_LINE)
            aside.flush()
            os.fsync(aside.fileno())
        os.ftruncate(handle, whole)
    return whole


def _write(handle: int, block: bytes, whole: int) -> None:
    """Write all of a block, or take back the part of it that was written."""
    try:
        rest = memoryview(block)
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    except OSError:
        os.ftruncate(handle, whole)
        raise


def _sync_folder(folder: Path) -> None:
    """Make a new file's name last too, where the system can open a folder."""
    if hasattr(os, "O_DIRECTORY"):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
