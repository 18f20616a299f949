"""A saved schedule with its shop, in the words of the shop floor."""

from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved import load_schedule, schedule_file
from scheduler.cli.shop_of_run import shop_of_run
from scheduler.cli.talk import say

if TYPE_CHECKING:
    from scheduler.documents.words.work_words import WorkWords


def saved_words(place: Path, shop_folder: Path | None) -> tuple[Path, "WorkWords"]:
    """Read the schedule that ``place`` stands for and its shop; say so if the shop has changed since.

    Returns
    -------
    (Path, WorkWords)
        File of the schedule, and its words.

    Raises
    ------
    Failed
        If there is no schedule, no work in it, or no shop.
    """
    from scheduler.documents.words.work_words import WorkWords
    from scheduler.record.events_file import read_events
    from scheduler.record.standing import standing

    path = schedule_file(place)
    schedule = load_schedule(path)
    if not schedule.work:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {path}: there is no work in this schedule")
    shop, same = shop_of_run(path, schedule, shop_folder)
    if not same:
        say("The shop folder has changed since this schedule was made; names and limits are those of now.")
    return path, WorkWords(shop, schedule, standing(read_events(path.parent).events))
