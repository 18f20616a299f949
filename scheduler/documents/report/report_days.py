"""The days of a report: sheet and pick list of each."""

from dataclasses import dataclass
from datetime import date

from scheduler.documents.sheets.day_sheet import DaySheet, day_sheets
from scheduler.documents.store.pick import PickList
from scheduler.documents.store.pick_list import pick_list
from scheduler.documents.words.work_words import WorkWords


@dataclass(frozen=True, slots=True)
class ReportDay:
    """One day on which something is done or loaded."""

    sheet: DaySheet
    picks: PickList

    @property
    def day(self) -> date:
        """Local date."""
        return self.sheet.day

    @property
    def title(self) -> str:
        """Date in full."""
        return self.sheet.day_text


def report_days(words: WorkWords) -> tuple[ReportDay, ...]:
    """Days of a schedule, in order."""
    return tuple(ReportDay(sheet, pick_list(words, sheet.day)) for sheet in day_sheets(words))
