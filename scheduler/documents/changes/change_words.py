"""The difference of two schedules in words and tables: for customers, for each unit, person and bay."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from itertools import groupby

from scheduler.documents.words.local_time import LocalTime, duration_text
from scheduler.documents.words.table import Table
from scheduler.schedule.changes import Changes, DateMove, StepMove
from scheduler.shop.day_words import day_text

MOST_DAYS = 6


def change_sentence(found: Changes, time: LocalTime) -> str:
    """Everything in one sentence."""
    if found.none:
        return "Nothing changes."
    later = sum(1 for move in found.dates if move.shift is not None and move.shift > timedelta(0))
    earlier = sum(1 for move in found.dates if move.shift is not None and move.shift < timedelta(0))
    parts = [
        f"{_count(len(found.units), 'unit')} {'moves' if len(found.units) == 1 else 'move'}",
        f"{_count(len(found.dates), 'order')} handed back at another time ({later} later, {earlier} earlier)",
        f"{_count(len(found.people), 'person', 'people')} with a changed day",
    ]
    new = {work.unit_id for work in found.new} - set(found.units)
    parts += [f"{_count(len(new), 'unit')} new or with new steps"] if new else []
    gone = {work.unit_id for work in found.gone}
    parts += [f"{_count(len(gone), 'unit')} with steps that fall away"] if gone else []
    first = min((min(m.before.start, m.after.start) for m in found.moves), default=None)
    parts += [f"the first change is on {time.text(first)}"] if first else []
    return f"{'; '.join(parts)}."


def date_table(found: Changes, time: LocalTime) -> Table:
    """Orders whose hand-over moves."""
    columns = ("order", "customer", "due", "was", "is", "change", "standing")
    return Table("Hand-overs that move", columns, tuple(_date_cells(move, time) for move in found.dates))


def unit_table(found: Changes, time: LocalTime) -> Table:
    """Units that move, each with its first step that does; those whose people alone change are not among them."""
    rows = []
    moved = [m for m in found.moves if m.other_time or m.other_bay]
    for unit, group in groupby(sorted(moved, key=lambda m: m.after.unit_id), key=lambda m: m.after.unit_id):
        moves = sorted(group, key=lambda m: min(m.before.start, m.after.start))
        bays = dict.fromkeys(f"{m.before.bay_id or 'yard'} to {m.after.bay_id or 'yard'}" for m in moves if m.other_bay)
        first = moves[0]
        cells: tuple[str, ...] = (unit, first.after.order_id, first.after.name)
        cells += (time.text(first.before.start), time.text(first.after.start))
        cells += (shift_text(first.shift), ", ".join(bays), str(len(moves)))
        rows.append((min(first.before.start, first.after.start), cells))
    columns = ("unit", "order", "first step", "was", "is", "change", "bay", "steps")
    return Table("Units that move", columns, tuple(cells for _, cells in sorted(rows)))


def people_table(found: Changes) -> Table:
    """People whose days change, with how many steps come to them and leave them."""
    rows = []
    for person, days in found.people.items():
        moves = [m for m in found.moves if person in m.came | m.went]
        comes, goes = sum(person in m.came for m in moves), sum(person in m.went for m in moves)
        rows.append((person, days_text(days), str(comes), str(goes)))
    return Table("People whose days change", ("person", "days", "steps taken on", "steps handed over"), tuple(rows))


def bay_table(found: Changes) -> Table:
    """Bays whose days change."""
    rows = tuple((bay, days_text(days), str(_steps_in(bay, found.moves))) for bay, days in found.bays.items())
    return Table("Bays whose days change", ("bay", "days", "steps that move"), rows)


def change_tables(found: Changes, time: LocalTime) -> tuple[Table, ...]:
    """All tables that have rows."""
    tables = (date_table(found, time), unit_table(found, time), people_table(found), bay_table(found))
    return tuple(table for table in tables if table.rows)


def change_data(found: Changes, time: LocalTime) -> Mapping[str, object]:
    """The same for a machine or a chart; moments are ISO 8601 with the site's offset, shifts in hours."""
    return {
        "says": change_sentence(found, time),
        "orders": [_date_data(move, time) for move in found.dates],
        "steps": [_step_data(move, time) for move in found.moves],
        "new": [work.work_id for work in found.new],
        "gone": [work.work_id for work in found.gone],
        "happened": [work.work_id for work in found.happened],
        "people": {person: [day.isoformat() for day in days] for person, days in found.people.items()},
        "bays": {bay: [day.isoformat() for day in days] for bay, days in found.bays.items()},
    }


def shift_text(shift: timedelta) -> str:
    """How much later or earlier, in days and hours."""
    minutes = abs(shift) // timedelta(minutes=1)
    if not minutes:
        return "same time"
    days, rest = divmod(minutes, 1440)
    length = " ".join([*([_count(days, "day")] if days else []), *([duration_text(rest)] if rest else [])])
    return f"{length} {'later' if shift > timedelta(0) else 'earlier'}"


def day_shift_text(was: datetime, now: datetime, time: LocalTime) -> str:
    """How many days on the calendar later or earlier, as a customer counts; on one day, in hours."""
    days = (time.day(now) - time.day(was)).days
    if now == was:
        return "as told"
    if not days:
        return shift_text(now - was)
    return f"{_count(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"


def days_text(days: Sequence[date]) -> str:
    """Days in a row, the first few by name."""
    named = ", ".join(day_text(day) for day in days[:MOST_DAYS])
    return f"{named} and {len(days) - MOST_DAYS} more" if len(days) > MOST_DAYS else named


def _date_cells(move: DateMove, time: LocalTime) -> tuple[str, ...]:
    row = move.either
    was = time.text(move.before.delivered_at) if move.before else "not planned"
    now = time.text(move.after.delivered_at) if move.after else "not planned any more"
    change = shift_text(move.shift) if move.shift is not None else ""
    late = move.after.days_late if move.after else 0
    standing = f"{_count(late, 'day')} late" if late else ("on time" if move.after else "")
    return row.order_id, row.customer, time.text(row.due_at), was, now, change, standing


def _date_data(move: DateMove, time: LocalTime) -> Mapping[str, object]:
    row, shift = move.either, move.shift
    return {
        "order_id": row.order_id,
        "customer": row.customer,
        "due_at": time.iso(row.due_at),
        "was": time.iso(move.before.delivered_at) if move.before else None,
        "is": time.iso(move.after.delivered_at) if move.after else None,
        "shift_h": None if shift is None else shift / timedelta(hours=1),
        "days_late_was": move.before.days_late if move.before else None,
        "days_late_is": move.after.days_late if move.after else None,
    }


def _step_data(move: StepMove, time: LocalTime) -> Mapping[str, object]:
    return {
        "work_id": move.after.work_id,
        "order_id": move.after.order_id,
        "was": time.iso(move.before.start),
        "is": time.iso(move.after.start),
        "shift_h": move.shift / timedelta(hours=1),
        "bay_was": move.before.bay_id,
        "bay_is": move.after.bay_id,
        "came": sorted(move.came),
        "went": sorted(move.went),
    }


def _steps_in(bay: str, moves: Sequence[StepMove]) -> int:
    return sum(bay in (m.before.bay_id, m.after.bay_id) for m in moves)


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"
