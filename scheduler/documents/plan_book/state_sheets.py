"""Sheets that say how good the plan is: state, goals, rules, and what changed against the plan before."""

from datetime import datetime
from typing import Final

from scheduler.check.breach import CheckReport
from scheduler.documents.cautions import RULE
from scheduler.documents.direction import without_controls
from scheduler.documents.plan_book.sheet import Column, Sheet, moment
from scheduler.documents.plan_state import facts, goals_table, headline, rules_table
from scheduler.documents.table import Table
from scheduler.documents.work_words import WorkWords
from scheduler.schedule.schedule import Schedule, Work
from scheduler.shop.workbook.book import Cell

_LONG: Final = frozenset({"says", "result"})


def state_sheet(words: WorkWords, report: CheckReport) -> Sheet:
    """Where the plan stands and where it comes from, in sentences and pairs."""
    said = [("state", line) for line in headline(words, report)]
    pairs = [("site", words.shop.site.name), *said, *facts(words.schedule.provenance, words.time), ("caution", RULE)]
    columns = (Column("what", "name of the fact"), Column("says", "the fact", "long"))
    return Sheet("state", columns, tuple((what, without_controls(says)) for what, says in pairs))


def goals_sheet(words: WorkWords) -> Sheet:
    """Goals in the order in which they count."""
    return _plain("goals", goals_table(words.schedule))


def rules_sheet(report: CheckReport) -> Sheet:
    """Rules with what the check says of each."""
    return _plain("rules", rules_table(report))


def changes_sheet(words: WorkWords, earlier: Schedule) -> Sheet:
    """What moved against the plan before: hand-overs first, then work by its new start."""
    columns = (
        Column("what", "hand-over of an order, or work on a unit", choices=("hand-over", "work")),
        Column("id", "order, or unit with step"),
        Column("change", "what happened to it", choices=("moved", "new", "gone")),
        Column("before", "when it was planned before", "datetime"),
        Column("now", "when it is planned now", "datetime"),
        Column("later_h", "hours later; negative for earlier", "number"),
    )
    dates = [{d.order_id: d.delivered_at for d in plan.deliveries} for plan in (earlier, words.schedule)]
    work = [{w.work_id: w for w in plan.work} for plan in (earlier, words.schedule)]
    starts = [{i: w.start for i, w in of_plan.items() if not _history(i, work)} for of_plan in work]
    rows = [*_moved(words, "hand-over", *dates), *_moved(words, "work", *starts)]
    return Sheet("changes", columns, tuple(rows))


def _history(work_id: str, plans: list[dict[str, Work]]) -> bool:
    """Whether the work is done: what has happened is no change of plan."""
    return any(work_id in plan and plan[work_id].done for plan in plans)


def _moved(words: WorkWords, what: str, before: dict[str, datetime], now: dict[str, datetime]) -> list[tuple[Cell, ...]]:
    rows: list[tuple[Cell, ...]] = []
    tz = words.time.tz
    ids = sorted(before.keys() | now.keys(), key=lambda i: (now.get(i) or before[i], i))
    for name in ids:
        was, is_now = before.get(name), now.get(name)
        if was is None and is_now is not None:
            rows.append((what, name, "new", None, moment(is_now, tz), None))
        elif was is not None and is_now is None:
            rows.append((what, name, "gone", moment(was, tz), None, None))
        elif was is not None and is_now is not None and was != is_now:
            later_h = round((is_now - was).total_seconds() / 3600, 2)
            rows.append((what, name, "moved", moment(was, tz), moment(is_now, tz), later_h))
    return rows


def _plain(name: str, table: Table) -> Sheet:
    """A sheet from a table of the report."""
    columns = tuple(Column(name, table.caption, "long" if name in _LONG else "string") for name in table.columns)
    return Sheet(name, columns, tuple(tuple(map(without_controls, row)) for row in table.rows))
