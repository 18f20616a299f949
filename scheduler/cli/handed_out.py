"""What a run hands out beside its report: the plan as a workbook, and calendars that follow on from those people have."""

from pathlib import Path
from shutil import copytree
from typing import TYPE_CHECKING, Final

from scheduler.cli.failed import Failed
from scheduler.cli.feed import FEED_FOLDER
from scheduler.cli.saved import SCHEDULE_FILE, load_schedule
from scheduler.cli.talk import say

if TYPE_CHECKING:
    from scheduler.check.breach import CheckReport
    from scheduler.schedule.schedule import Schedule
    from scheduler.shop.shop import Shop

PLAN_BOOK: Final = "plan.xlsx"


def earlier_plan(report: Path) -> "Schedule | None":
    """Schedule of the report that is about to be replaced; None if there is none that can be read."""
    path = report / SCHEDULE_FILE
    try:
        return load_schedule(path) if path.is_file() else None
    except Failed:
        return None


def follow_on(told: Path, report: Path) -> None:
    """Let the calendars of a new folder follow on from those of the run that people were told."""
    old, new = told / FEED_FOLDER, report / FEED_FOLDER
    if old.is_dir() and not new.exists():
        copytree(old, new)


def hand_out(
    shop: "Shop",
    schedule: "Schedule",
    check: "CheckReport",
    earlier: "Schedule | None",
    report: Path,
    workbook: Path | None = None,
) -> tuple[Path, ...]:
    """Write the workbook and the calendars.

    Parameters
    ----------
    shop, schedule, check
        A schedule that keeps every rule.
    earlier : Schedule or None
        What it replaces.
    report : Path
        Folder of the run.
    workbook : Path or None
        Where the workbook goes; ``plan.xlsx`` in the folder of the run if not given.
    """
    from scheduler.documents.feed.write_feeds import write_feeds
    from scheduler.documents.plan_book.plan_book import plan_book
    from scheduler.documents.words.work_words import WorkWords
    from scheduler.shop.whole_file import put_file

    words = WorkWords(shop, schedule)
    path = workbook or report / PLAN_BOOK
    put_file(path, plan_book(words, check, earlier))
    return (path, *write_feeds(words, report / FEED_FOLDER, say))
