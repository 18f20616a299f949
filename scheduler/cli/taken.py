"""The choice of a re-plan that was taken, written out: report, rework that it rests on, what goes to whom."""

from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.saved import SCHEDULE_FILE, note_shop
from scheduler.cli.talk import say

if TYPE_CHECKING:
    from scheduler.replan.writing import Choice
    from scheduler.schedule.schedule import Schedule
    from scheduler.shop.fixed import Rework
    from scheduler.shop.shop import Shop


def write_taken(
    taken: "Choice", earlier: "Schedule", folder: Path, run_folder: Path, out: Path, rework: "tuple[Rework, ...]"
) -> None:
    """Write the report of a choice, and what follows from its being taken.

    Parameters
    ----------
    taken : Choice
    earlier : Schedule
        What people were told.
    folder : Path
        Of the shop; its table of rework is added to.
    run_folder : Path
        Where the schedule that people were told lies with its events.
    out : Path
        Where the report goes.
    rework : tuple of Rework
        What the choice rests on besides what the shop has.
    """
    from scheduler.cli.fresh_room import make_fresh
    from scheduler.cli.handed_out import follow_on, hand_out
    from scheduler.cli.made_from import note_rows
    from scheduler.documents.report.report import write_report
    from scheduler.record.events_file import read_events
    from scheduler.shop.holds import read_with_holds

    write_report(taken.plan.shop, taken.plan.schedule, taken.plan.report, out, earlier, read_events(run_folder).events)
    note_shop(out.absolute(), folder)
    _keep_rework(folder, rework)
    note_rows(read_with_holds(folder), out.absolute())
    follow_on(run_folder, out)
    make_fresh(folder, out.absolute() / SCHEDULE_FILE)
    hand_out(taken.plan.shop, taken.plan.schedule, taken.plan.report, earlier, out.absolute())


def with_numbers(shop: "Shop", rows: "tuple[Rework, ...]") -> "tuple[Rework, ...]":
    """Rows as they are named in the plan, whatever comes before them in the table or in the events."""
    told = {(row.unit_id, row.after, row.kind): row for group in shop.rework_of.values() for row in group}
    return tuple(told[row.unit_id, row.after, row.kind] for row in rows)


def _keep_rework(folder: Path, rework: "tuple[Rework, ...]") -> None:
    """Add the rework that the choice rests on to the table of the shop, or ask for it where the shop is a workbook."""
    if not rework:
        return
    from scheduler.shop.fixed import Rework
    from scheduler.shop.read import is_workbook, read_shop
    from scheduler.shop.whole_file import put_file
    from scheduler.shop.write import table_text

    rows = "; ".join(f"{row.unit_id}, {row.kind.value} after {row.after}" for row in rework)
    if is_workbook(folder):
        say(f"Add these rows to the sheet rework, the plan rests on them: {rows}")
        return
    shop = read_shop(folder)
    path = put_file(folder / "rework.csv", table_text(Rework, (*shop.rework, *rework), shop.site.tz))
    say(f"Added to {path}: {rows}")
