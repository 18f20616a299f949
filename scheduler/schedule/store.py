"""Write a schedule to a file, whole or not at all, and read it back."""

from pathlib import Path

from pydantic import ValidationError

from scheduler.schedule.schedule import SCHEMA_VERSION, Schedule
from scheduler.shop.whole_file import put_file


class ScheduleUnreadableError(ValueError):
    """The file is missing, is not JSON or is not a schedule of a known version."""


def write_schedule(schedule: Schedule, path: Path) -> None:
    """Write ``schedule`` to ``path``; a reader sees the old file or the new one, never a part.

    Parameters
    ----------
    schedule : Schedule
    path : Path
        JSON file; its folder is made if it is missing.
    """
    put_file(path, schedule.model_dump_json(indent=1), synced=True)


def read_schedule(path: Path) -> Schedule:
    """Read a schedule.

    Raises
    ------
    ScheduleUnreadableError
        With the file and, where the content is at fault, every fault and its place.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        msg = f"{path}: cannot be read as a schedule ({fault}); give the schedule.json of a run"
        raise ScheduleUnreadableError(msg) from fault
    try:
        return Schedule.model_validate_json(text)
    except ValidationError as fault:
        other = next((e["input"] for e in fault.errors() if e["loc"] == ("schema_version",)), SCHEMA_VERSION)
        if other != SCHEMA_VERSION:
            msg = f"{path}: a schedule of version {other!r}, and version {SCHEMA_VERSION} is read here; plan the shop again"
            raise ScheduleUnreadableError(msg) from fault
        places = "; ".join(f"{'.'.join(map(str, e['loc'])) or 'file'}: {e['msg']}" for e in fault.errors())
        msg = f"{path}: not a schedule of version {SCHEMA_VERSION}: {places}"
        raise ScheduleUnreadableError(msg) from fault
