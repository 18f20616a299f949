"""What changed against the plan before: hand-overs first, then work by the start that comes first."""

from datetime import timedelta
from typing import Final

from scheduler.documents.plan_book.sheet import Column, Sheet, moment
from scheduler.documents.words.direction import without_controls
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.changes import DateMove, StepMove, changes
from scheduler.schedule.schedule import Schedule, Work
from scheduler.shop.workbook.book import Cell

_COLUMNS: Final = (
    Column("what", "hand-over of an order, or work on a unit", choices=("hand-over", "work")),
    Column("id", "order, or unit with step"),
    Column("change", "what happened to it", choices=("moved", "new", "gone")),
    Column("before", "when it was planned before", "datetime"),
    Column("now", "when it is planned now", "datetime"),
    Column("later_h", "hours later; negative for earlier", "number"),
    Column("bay_before", "bay before, if it is another one now"),
    Column("bay_now", "bay now, if it was another one before"),
    Column("came", "people who are in it now and were not"),
    Column("went", "people who were in it and are not any more"),
)


def changes_sheet(words: WorkWords, earlier: Schedule) -> Sheet:
    """What everybody notices; what has happened in between is history and no change."""
    found = changes(earlier, words.schedule)
    rows = [*(_date(words, move) for move in found.dates), *(_step(words, move) for move in found.moves)]
    rows += [_alone(words, work, "new") for work in found.new]
    rows += [_alone(words, work, "gone") for work in found.gone]
    return Sheet("changes", _COLUMNS, tuple(rows))


def _date(words: WorkWords, move: DateMove) -> tuple[Cell, ...]:
    tz = words.time.tz
    was, now = (moment(d.delivered_at, tz) if d else None for d in (move.before, move.after))
    change = "moved" if move.before and move.after else "new" if move.after else "gone"
    return "hand-over", move.either.order_id, change, was, now, _hours(move.shift), "", "", "", ""


def _step(words: WorkWords, move: StepMove) -> tuple[Cell, ...]:
    was, now = move.before, move.after
    bays = (was.bay_id, now.bay_id) if move.other_bay else ("", "")
    people = ("; ".join(without_controls(words.person(p)) for p in sorted(ids)) for ids in (move.came, move.went))
    starts = moment(was.start, words.time.tz), moment(now.start, words.time.tz)
    return "work", now.work_id, "moved", *starts, _hours(move.shift), *bays, *people


def _alone(words: WorkWords, work: Work, change: str) -> tuple[Cell, ...]:
    start = moment(work.start, words.time.tz)
    before, now = (None, start) if change == "new" else (start, None)
    return "work", work.work_id, change, before, now, None, "", "", "", ""


def _hours(shift: timedelta | None) -> float | None:
    return None if shift is None else round(shift.total_seconds() / 3600, 2)
