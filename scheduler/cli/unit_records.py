"""The records of the units in the folder of a run are renewed when a reading comes in."""

import os
from collections.abc import Iterable
from pathlib import Path

from scheduler.cli.talk import say
from scheduler.record.events import AnyEvent, Correction, Reading
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop

PAGE = "units.html"


def renew_records(folder: Path, shop: Shop, schedule: Schedule, new: Iterable[AnyEvent]) -> None:
    """Write the page of unit records again if a new event is a reading or puts one right; where no page is, none is made."""
    page = folder / PAGE
    if not page.is_file() or not any(isinstance(event, Reading | Correction) for event in new):
        return
    from scheduler.documents.paper.paper_pages import units_page
    from scheduler.documents.words.work_words import WorkWords
    from scheduler.record.events_file import read_events
    from scheduler.record.standing import standing

    part = page.with_name(f".{PAGE}.{os.getpid()}.part")
    part.write_text(units_page(WorkWords(shop, schedule, standing(read_events(folder).events))), encoding="utf-8", newline="")
    part.replace(page)
    say(f"The readings stand in {page}.")
