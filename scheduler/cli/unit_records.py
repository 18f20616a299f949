"""The records of the units in the folder of a run are renewed when a reading comes in."""

from collections.abc import Iterable
from pathlib import Path

from scheduler.cli.talk import say
from scheduler.record.events import AnyEvent, Correction, Reading
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop
from scheduler.shop.whole_file import put_file

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

    put_file(page, units_page(WorkWords(shop, schedule, standing(read_events(folder).events))))
    say(f"The readings stand in {page}.")
