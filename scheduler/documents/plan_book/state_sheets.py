"""Sheets that say how good the plan is: state, goals, rules."""

from typing import Final

from scheduler.check.breach import CheckReport
from scheduler.documents.cautions.cautions import RULE
from scheduler.documents.plan_book.sheet import Column, Sheet
from scheduler.documents.state.plan_state import facts, goals_table, headline, rules_table
from scheduler.documents.words.direction import without_controls
from scheduler.documents.words.table import Table
from scheduler.documents.words.work_words import WorkWords

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


def _plain(name: str, table: Table) -> Sheet:
    """A sheet from a table of the report."""
    columns = tuple(Column(name, table.caption, "long" if name in _LONG else "string") for name in table.columns)
    return Sheet(name, columns, tuple(tuple(map(without_controls, row)) for row in table.rows))
