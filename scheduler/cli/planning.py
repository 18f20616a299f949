"""The main job as a command does it: read, plan, check, say what is replaced, write the report."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.failed import Failed
from scheduler.cli.no_plan import no_schedule, refused
from scheduler.cli.progress import Course, course
from scheduler.cli.replaced import replaced
from scheduler.cli.report_place import place_for_report
from scheduler.cli.saved import SCHEDULE_FILE, note_shop
from scheduler.cli.talk import say
from scheduler.cli.unfinished import Unfinished, unfinished

if TYPE_CHECKING:
    from scheduler.pipeline import NoScheduleError, Plan
    from scheduler.search.settings import Settings
    from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class Run:
    """A plan and where its report lies; ``files`` begins with the page that holds everything."""

    plan: "Plan"
    report: Path
    files: tuple[Path, ...]


def run_plan(folder: Path, out: Path, settings: "Settings", workbook: Path | None = None) -> Run:
    """Plan a shop and write the report, the workbook and the calendars; a run that fails leaves an earlier report as it was.

    The workbook goes into the folder of the report if no other place is given.

    While the search goes on, its best checked schedule lies beside the report, for a run that is killed.

    Raises
    ------
    Failed
        If there is no schedule, or ``out`` holds something that is no report.
    BadInputError
        With every fault of the shop folder.
    """
    how_long = f"up to {settings.time_limit_s:g} s" if settings.moves is None else f"{settings.moves} moves"
    with course(f"searching, {how_long}; Ctrl-C keeps the best so far", counted=settings.moves is not None) as shown:
        shop = _read(folder, out, shown)
        with unfinished(out, folder) as kept:
            plan = _plan(shop, settings, shown, kept)
            shown.phase("writing the report")
            files = write_run(plan, folder, out, workbook)
    return Run(plan, out.absolute(), files)


def _read(folder: Path, out: Path, shown: Course) -> "Shop":
    shown.phase(f"reading {folder}")
    from scheduler.shop.holds import read_with_holds

    place_for_report(out)
    return read_with_holds(folder)


def _plan(shop: "Shop", settings: "Settings", shown: Course, kept: Unfinished) -> "Plan":
    shown.phase("working out what each unit needs")
    from scheduler.pipeline import NoScheduleError, RefusedError, plan

    try:
        return plan(shop, settings, shown.news, kept.keep)
    except NoScheduleError as error:
        raise _way_out(error, shop, shown) from error
    except RefusedError as error:
        raise refused(error.report) from error


def write_run(plan: "Plan", folder: Path, out: Path, workbook: Path | None) -> tuple[Path, ...]:
    """Write everything that a run hands out, and say what it replaces."""
    from scheduler.cli.handed_out import earlier_plan, hand_out
    from scheduler.documents.report.report import write_report
    from scheduler.record.events_file import read_events

    earlier = replaced(out, plan.schedule)
    if earlier is not None:
        say(earlier)
    before = earlier_plan(out)
    files = write_report(plan.shop, plan.schedule, plan.report, out, before, read_events(out).events)
    noted = note_shop(out.absolute(), folder)
    from scheduler.cli.keep_room import keep_room
    from scheduler.cli.made_from import note_rows

    note_rows(plan.shop, out.absolute())
    keep_room(folder, out.absolute() / SCHEDULE_FILE)
    return (*files, noted, *hand_out(plan.shop, plan.schedule, plan.report, before, out.absolute(), workbook))


def _way_out(error: "NoScheduleError", shop: "Shop", shown: Course) -> Failed:
    """Say what clashes, or that nothing was found, and what can be done about it."""
    shown.phase("looking for a way out")
    from scheduler.cli.way_out_text import with_way_out

    return with_way_out(no_schedule(error.outcome), shop)
