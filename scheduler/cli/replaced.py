"""What a new schedule changes for those who have the report of an earlier one in their hands."""

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from scheduler.cli.failed import Failed
from scheduler.cli.plain_dates import PlainDates, plain_dates
from scheduler.cli.saved import SCHEDULE_FILE
from scheduler.documents.words.local_time import LocalTime
from scheduler.schedule.schedule import DeliveryDate, Schedule

MOST_NAMED = 12


def replaced(report: Path, schedule: Schedule) -> str | None:
    """Say which hand-overs move against the report that is about to be replaced; None if there is none.

    Parameters
    ----------
    report : Path
        Folder of the report.
    schedule : Schedule
        The new one.
    """
    path = report / SCHEDULE_FILE
    if not path.is_file():
        return None
    try:
        earlier = plain_dates(path)
    except Failed:
        return f"Replaces the report in {report}; its schedule cannot be read."
    head = f"Replaces the report of {earlier.time.text(earlier.made_at)}{_site(earlier, schedule)}"
    moved = _moved(earlier, schedule)
    more = [f"  and {len(moved) - MOST_NAMED} more"] if len(moved) > MOST_NAMED else []
    return "\n".join([f"{head}: {_count(len(moved))} moved.", *moved[:MOST_NAMED], *more])


def _site(earlier: PlainDates, schedule: Schedule) -> str:
    return "" if earlier.site == schedule.site else f" of another site, {earlier.site}"


def _moved(earlier: PlainDates, schedule: Schedule) -> list[str]:
    before = {row.order_id: row.delivered_at for row in earlier.rows}
    after = {row.order_id for row in schedule.deliveries}
    gone = [f"  {order}: no longer planned" for order in before if order not in after]
    return [*(line for row in schedule.deliveries if (line := _line(before, row, earlier.time))), *gone]


def _line(before: Mapping[str, datetime], row: DeliveryDate, time: LocalTime) -> str | None:
    was = before.get(row.order_id)
    if was == row.delivered_at:
        return None
    return f"  {row.order_id}: {time.text(was) if was else 'not planned before'} -> {time.text(row.delivered_at)}"


def _count(orders: int) -> str:
    return f"{orders or 'no'} order{'' if orders == 1 else 's'}"
