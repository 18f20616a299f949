"""Put a report in place whole or not at all: a run that fails leaves an existing report as it was."""

import os
import re
import shutil
from collections.abc import Mapping
from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from scheduler.record.lock import EVENTS_FILE, LOCK_FILE, only_writer

_OURS: Final = re.compile(
    r"(index|units)\.html|schedule(-schema)?\.json|(dates|statement|purchases|openings|warmers|cartridges)\.csv"
    r"|plan\.pdf|units(-[\w.+-]+)?\.pdf|(day|crew|pick)-\d{4}-\d\d-\d\d(-[\w.-]+)?\.(html|csv|pdf)"
)


class NotAReportError(ValueError):
    """The folder holds something, but no report, or cannot be written; it is left alone."""


def put_in_place(texts: Mapping[str, str], folder: Path) -> tuple[Path, ...]:
    """Write files beside the folder, then swap the two.

    Parameters
    ----------
    texts : mapping of str to str
        File names with their content.
    folder : Path
        New, empty or an earlier report. Files that people have put into it stay in it.

    Returns
    -------
    tuple of Path
        The files in place.

    Raises
    ------
    NotAReportError
        If the folder holds files but no earlier report, or is not a folder.
    OSError
        If the files cannot be written; an earlier report is as it was.
    """
    folder = folder.absolute()
    refuse_foreign(folder)
    folder.parent.mkdir(parents=True, exist_ok=True)
    fresh, old = (folder.with_name(f".{folder.name}.{os.getpid()}.{end}") for end in ("part", "old"))
    try:
        _write(texts, fresh)
        with _nobody_recording(folder):
            _keep_foreign(folder, fresh)
            _swap(fresh, folder, old)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    shutil.rmtree(old, ignore_errors=True)
    return tuple(folder / name for name in texts)


def _nobody_recording(folder: Path) -> AbstractContextManager[None]:
    """Keep out who records events while their file is carried over into the new folder."""
    recorded = (folder / EVENTS_FILE).exists()
    return only_writer(folder / LOCK_FILE) if recorded else nullcontext()


def refuse_foreign(folder: Path) -> None:
    """Refuse a folder that holds something other than a report, or cannot be written; ask it before a long search, not after.

    Raises
    ------
    NotAReportError
        If the folder holds files but no earlier report, is not a folder, or nothing can be written beside it.
    """
    _refuse_locked(folder.absolute().parent)
    if not folder.exists():
        return
    if not folder.is_dir():
        msg = f"{folder}: is a file, and a report is a folder; give another name"
        raise NotAReportError(msg)
    if any(folder.iterdir()) and not (folder / "schedule.json").is_file():
        msg = f"{folder}: is there already and holds no report; give a new folder, or empty this one"
        raise NotAReportError(msg)


def _refuse_locked(parent: Path) -> None:
    """Try whether a folder can be made where the report will be made."""
    there = next(place for place in (parent, *parent.parents) if place.exists())
    try:
        with TemporaryDirectory(prefix=".coatrun-", dir=there):
            pass
    except OSError as error:
        msg = f"{there}: no report can be written there ({error.strerror}); give another folder with --out"
        raise NotAReportError(msg) from error


def _write(texts: Mapping[str, str], fresh: Path) -> None:
    fresh.mkdir()
    for name, text in texts.items():
        (fresh / name).write_text(text, encoding="utf-8", newline="")


def _keep_foreign(folder: Path, fresh: Path) -> None:
    """Copy what people have put into an earlier report."""
    for entry in folder.iterdir() if folder.exists() else ():
        if not _OURS.fullmatch(entry.name):
            if entry.is_dir():
                shutil.copytree(entry, fresh / entry.name, symlinks=True)
            else:
                shutil.copy2(entry, fresh / entry.name, follow_symlinks=False)


def _swap(fresh: Path, folder: Path, old: Path) -> None:
    if not folder.exists():
        fresh.rename(folder)
        return
    folder.rename(old)
    try:
        fresh.rename(folder)
    except OSError:
        old.rename(folder)
        raise
