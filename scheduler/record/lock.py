"""One writer at a time: a lock on a file beside the events, which the system gives back when its holder dies."""

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

EVENTS_FILE: Final = "events.jsonl"
LOCK_FILE: Final = "events.lock"
PATIENCE_S: Final = 10.0
_BETWEEN_S: Final = 0.02


class LockedError(RuntimeError):
    """Somebody else has been writing for longer than anybody wants to wait."""


@contextmanager
def only_writer(path: Path, patience_s: float = PATIENCE_S) -> Iterator[None]:
    """Hold the lock of ``path``; the lock file stays, it is empty.

    Raises
    ------
    LockedError
        If the lock is not free within ``patience_s``.
    """
    until = time.monotonic() + patience_s
    handle = _open_locked(path, until)
    try:
        yield
    finally:
        os.close(handle)  # gives the lock back


def _open_locked(path: Path, until: float) -> int:
    """Open and lock the file; one that was replaced while we waited is not the one that others hold, so try again."""
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            _wait(handle, path, until)
            if _is_still(handle, path):
                return handle
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)


def _is_still(handle: int, path: Path) -> bool:
    """Whether the name still leads to the open file."""
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False


def _wait(handle: int, path: Path, until: float) -> None:
    while not _taken(handle):
        if time.monotonic() > until:
            msg = f"{path}: somebody else is recording; try again, or end the program that holds the file"
            raise LockedError(msg)
        time.sleep(_BETWEEN_S)


if sys.platform == "win32":

    def _taken(handle: int) -> bool:
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:

    def _taken(handle: int) -> bool:
        import fcntl

        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True
