"""The best checked schedule while the search goes on, beside the report that will take its place.

It is a folder of a run of its own, ``<report>.unfinished``, so that an earlier report stays as it was. A run that is killed
leaves it behind, and ``coatrun check``, ``day`` and ``dates`` read it like any other.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.saved import RUN_FILE, SCHEDULE_FILE, note_shop
from scheduler.cli.talk import say

if TYPE_CHECKING:
    from scheduler.pipeline import Plan


def unfinished_folder(report: Path) -> Path:
    """Where the best schedule so far lies while a report is on its way."""
    full = report.resolve()
    return full.with_name(f"{full.name}.unfinished")


class Unfinished:
    """Writes the best schedule so far, each time whole or not at all."""

    def __init__(self, report: Path, shop: Path) -> None:
        self.folder, self.shop = unfinished_folder(report), shop
        self.can_write, self.written = True, False

    def keep(self, plan: "Plan") -> None:
        """Write a checked schedule; a disk that is full is said once and does not end the search."""
        from scheduler.schedule.store import write_schedule

        if not self.can_write:
            return
        try:
            write_schedule(plan.schedule, self.folder / SCHEDULE_FILE)
            note_shop(self.folder, self.shop)
            self.written = True
        except OSError as error:
            self.can_write = False
            say(f"The best schedule so far cannot be kept: {error.filename or self.folder}: {error.strerror}")

    def clear(self) -> None:
        """Remove what was written, half-written by a killed run too, and the folder if nobody has put anything else into it."""
        if not self.folder.is_dir():
            return
        for name in (SCHEDULE_FILE, RUN_FILE):
            for path in (self.folder / name, *self.folder.glob(f".{name}.*.part")):
                path.unlink(missing_ok=True)
        if not any(self.folder.iterdir()):
            self.folder.rmdir()


@contextmanager
def unfinished(report: Path, shop: Path) -> Iterator[Unfinished]:
    """Keep the best schedule so far until the report is in place; say where it is if that fails."""
    kept = Unfinished(report, shop)
    try:
        yield kept
    except BaseException:
        if kept.written:
            say(f"The best schedule so far is kept in {kept.folder / SCHEDULE_FILE}.")
        raise
    kept.clear()
