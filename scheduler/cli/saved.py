"""Find what an earlier run has left: its schedule, and the shop folder that it was made from."""

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING, Final

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.shop.whole_file import put_file

if TYPE_CHECKING:
    from scheduler.schedule.schedule import Schedule

SCHEDULE_FILE: Final = "schedule.json"
SITE_FILE: Final = "site.toml"
"""What every shop folder has."""
RUN_FILE: Final = "run.json"
"""Written beside a schedule: the way from its folder to the shop folder."""
REPORTS: Final = Path("reports")
LONGEST: Final = 2000
MOST_ODD: Final = 20


def report_folder(shop_folder: Path) -> Path:
    """Where the report of a shop goes if nobody says otherwise."""
    full = shop_folder.resolve()
    return REPORTS / ((full.stem if is_workbook_name(full) else full.name) or "shop")


def is_workbook_name(place: Path) -> bool:
    """Whether a place is named like a workbook; answered without loading what reads one."""
    return place.suffix.lower() == ".xlsx" and not place.is_dir()


def schedule_file(place: Path) -> Path:
    """Find the schedule that ``place`` stands for.

    Parameters
    ----------
    place : Path
        The file itself, the folder of a run, or a shop folder or workbook that was planned into ``reports``.

    Raises
    ------
    Failed
        If there is none.
    """
    of_shop = report_folder(place) / SCHEDULE_FILE
    if is_workbook_name(place):
        candidates: tuple[Path, ...] = (of_shop,)
    else:
        candidates = (place,) if not place.is_dir() else (place / SCHEDULE_FILE, of_shop)
    for path in candidates:
        if path.is_file():
            return path
    raise Failed(
        ExitCode.BAD_INPUT, f"coatrun: {place}: {_lack(place, of_shop.parent)}give the schedule.json or the folder of a run"
    )


def _lack(place: Path, report: Path) -> str:
    """Why there is no schedule, and what to do instead."""
    if (is_workbook_name(place) and place.is_file()) or (place / SITE_FILE).is_file():
        return f"it has not been planned into {report}; type coatrun plan {place} first, or "
    if place.is_dir():
        return "there is no schedule in it; "
    meant = _meant(place)
    return "there is no such file or folder; " + (f"write {meant} if that is meant, or " if meant is not None else "")


def shop_and_run(place: Path, told: Path | None) -> tuple[Path, Path | None]:
    """Shop and run of a question: ``place`` may be the shop, or the folder or schedule of a run that knows its shop.

    Raises
    ------
    Failed
        If it is a run that does not know its shop any more.
    """
    of_run = place / SCHEDULE_FILE if place.is_dir() else place
    if told is None and not is_workbook_name(place) and of_run.is_file():
        return shop_folder_of(of_run), place
    return place, told


def _meant(place: Path) -> Path | None:
    """Run, shop or schedule beside a missing one, with nearly its name; loaded only when there is something to say."""
    from scheduler.shop.places import similar_place

    return similar_place(
        place, lambda path: any((path / name).is_file() for name in (SCHEDULE_FILE, SITE_FILE)) or path.name == SCHEDULE_FILE
    )


def load_schedule(path: Path) -> "Schedule":
    """Read a schedule.

    Raises
    ------
    Failed
        If the file is no schedule of a known version, or holds a moment or number that nothing can be done with.
    """
    from scheduler.cli.odd_values import odd_values
    from scheduler.schedule.store import ScheduleUnreadableError, read_schedule

    try:
        schedule = read_schedule(path)
    except ScheduleUnreadableError as error:
        says = str(error)
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {says[:LONGEST]}{'...' if len(says) > LONGEST else ''}") from error
    odd = odd_values(schedule)
    if odd:
        lines = [f"coatrun: {path}: cannot be used as a schedule", *odd[:MOST_ODD]]
        more = [f"and {len(odd) - MOST_ODD} more"] if len(odd) > MOST_ODD else []
        raise Failed(ExitCode.BAD_INPUT, "\n  ".join([*lines, *more]))
    return schedule


def note_shop(report: Path, shop_folder: Path) -> Path:
    """Leave the way back to the shop folder in the folder of a run."""
    try:
        way = os.path.relpath(shop_folder.resolve(), report.resolve())
    except ValueError:  # another drive
        way = str(shop_folder.resolve())
    return put_file(report / RUN_FILE, json.dumps({"schema": "coatrun/run/1", "shop": way}, indent=1) + "\n")


def shop_folder_of(schedule: Path) -> Path:
    """Shop folder that a saved schedule was made from.

    Raises
    ------
    Failed
        If nothing says where it is, or it is not there any more.
    """
    try:
        noted = json.loads((schedule.parent / RUN_FILE).read_text(encoding="utf-8"))
        folder = schedule.parent / str(noted["shop"])
    except (OSError, ValueError, KeyError, TypeError):
        folder = None
    if folder is None or not folder.exists():
        where = "nothing beside it says where its shop is" if folder is None else f"its shop {folder} is gone"
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {schedule}: {where}; give the shop folder or workbook with --shop DIR")
    return folder.resolve()
