"""The plan as one workbook for the planner's own sums, and for whoever asks for it as a spreadsheet."""

import io

from scheduler.check.breach import CheckReport
from scheduler.documents.plan_book.changes_sheet import changes_sheet
from scheduler.documents.plan_book.material_sheets import packs_sheet, pick_sheet
from scheduler.documents.plan_book.plan_sheets import dates_sheet, units_sheet, work_sheet
from scheduler.documents.plan_book.sheet import put_sheet
from scheduler.documents.plan_book.state_sheets import goals_sheet, rules_sheet, state_sheet
from scheduler.documents.store.pick_list import pick_list
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Schedule
from scheduler.shop.workbook.book import new_book


def plan_book(words: WorkWords, report: CheckReport, earlier: Schedule | None = None) -> bytes:
    """Write a plan as the bytes of a workbook.

    Parameters
    ----------
    words : WorkWords
        The schedule with its shop.
    report : CheckReport
        What the check says of it.
    earlier : Schedule or None
        The plan that it replaces; with one there is a sheet of what changed.
    """
    sheets = [state_sheet(words, report), dates_sheet(words), units_sheet(words), work_sheet(words), packs_sheet(words)]
    sheets += [pick_sheet(pick_list(words, day) for day in words.by_day.days)]
    sheets += [changes_sheet(words, earlier)] if earlier is not None else []
    sheets += [goals_sheet(words), rules_sheet(report)]
    out = io.BytesIO()
    with new_book(out, words.shop.site.name, exact=False) as book:
        for sheet in sheets:
            put_sheet(book, sheet)
    return out.getvalue()
