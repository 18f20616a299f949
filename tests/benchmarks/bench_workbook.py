"""Figures of workbooks and calendars: a shop of 400 units written and read, its plan handed out."""

import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from random_shop import random_shop

from scheduler.documents.feed.write_feeds import write_feeds
from scheduler.documents.plan_book.plan_book import plan_book
from scheduler.documents.words.work_words import WorkWords
from scheduler.pipeline import plan
from scheduler.search.settings import Settings
from scheduler.shop.faults import BadInputError
from scheduler.shop.read import read_shop
from scheduler.shop.workbook.write import write_workbook
from scheduler.shop.write import write_shop

COUNTY = Path(__file__).parents[2] / "demo" / "county"


def timed(what: str, work: Callable[[], object]) -> None:
    """Print seconds on the clock and of the processor, the best of three."""
    spans = []
    for _ in range(3):
        clock, processor = time.perf_counter(), time.process_time()
        work()
        spans.append((time.perf_counter() - clock, time.process_time() - processor))
    print(f"{what:32s}  {min(a for a, _ in spans):9.2f}  {min(b for _, b in spans):13.2f}")


def test_tables(tmp_path: Path) -> None:
    """A folder and a workbook side by side; nothing is asserted of the clock."""
    print("\nwhat                              clock (s)  processor (s)")
    for name, shop in (("400 units", random_shop(1, 400)), ("demo with a typical year", read_shop(COUNTY))):
        folder, book = tmp_path / name, tmp_path / f"{name}.xlsx"
        timed(f"{name}, folder written", lambda shop=shop, to=folder: write_shop(shop, to))  # type: ignore[misc]
        timed(f"{name}, folder read", lambda place=folder: _read(place))  # type: ignore[misc]
        timed(f"{name}, book written", lambda shop=shop, to=book: write_workbook(shop, to))  # type: ignore[misc]
        timed(f"{name}, book read", lambda place=book: _read(place))  # type: ignore[misc]


def test_plan_handed_out(tmp_path: Path) -> None:
    """The plan of 400 units as a workbook and as calendars; nothing is asserted of the clock."""
    made = plan(random_shop(1, 400), Settings(seed=1, time_limit_s=1))
    print("\nwhat                              clock (s)  processor (s)")
    timed("plan of 400 units, book", lambda: plan_book(WorkWords(made.shop, made.schedule), made.report, made.schedule))
    timed("plan of 400 units, calendars", lambda: write_feeds(WorkWords(made.shop, made.schedule), tmp_path, print))


def _read(place: Path) -> None:
    with suppress(BadInputError):  # a drawn shop of this size may be too much work for its crew: reading it takes as long
        read_shop(place)
