"""Take reports into the events file: looked at and added while nobody else writes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from scheduler.record.desk import Desk
from scheduler.record.enter import Entry, admit
from scheduler.record.events import AnyEvent
from scheduler.record.events_file import Recorded, add_lines, read_events
from scheduler.record.lock import LOCK_FILE, only_writer
from scheduler.record.report import ObjectionError
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop

Making = Callable[[Desk], AnyEvent]
"""Makes an event of a report at the desk as it is after the reports before it; raises ObjectionError."""


@dataclass(frozen=True, slots=True)
class Booked:
    """What became of the reports, in their order, and of the file."""

    entries: tuple[Entry, ...]
    written: bool
    file: Recorded
    desk: Desk


def open_desk(folder: Path, shop: Shop, schedule: Schedule, now: datetime) -> tuple[Desk, Recorded]:
    """What is known in the folder of a run, and the state of its events file."""
    recorded = read_events(folder)
    return Desk(shop, schedule, recorded.events, now), recorded


def book(
    folder: Path, shop: Shop, schedule: Schedule, now: datetime, reports: Sequence[Making], *, keep_good: bool = False
) -> Booked:
    """Record reports, all of them or none unless ``keep_good``.

    Raises
    ------
    LockedError
        If somebody else is writing.
    OSError
        If the file cannot be read or written.
    """
    with only_writer(folder / LOCK_FILE):
        desk, recorded = open_desk(folder, shop, schedule, now)
        entries: list[Entry] = []
        for report in reports:
            entry = _entry(desk, report)
            entries.append(entry)
            if entry.event is not None and not entry.known and not entry.objections:
                desk = desk.with_event(entry.event)
        written = keep_good or not any(entry.objections for entry in entries)
        new = [e.event for e in entries if e.event is not None and not e.known and not e.objections] if written else []
        if new:
            add_lines(folder, new)
    return Booked(tuple(entries), written, recorded, desk)


def _entry(desk: Desk, report: Making) -> Entry:
    try:
        return admit(desk, report(desk))
    except ObjectionError as error:
        return Entry(objections=error.objections)
