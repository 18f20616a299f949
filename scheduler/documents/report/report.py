"""The report: one page that holds everything, with the sheets and lists of each day beside it."""

import json
from collections.abc import Iterable, Iterator
from pathlib import Path

from scheduler.check.breach import CheckReport
from scheduler.documents.paper.paper_pages import PAPERS, crew_page, day_page, pick_page, units_page
from scheduler.documents.report.index_page import index_page
from scheduler.documents.report.report_days import ReportDay, report_days
from scheduler.documents.report.report_folder import put_in_place, refuse_foreign
from scheduler.documents.sheets.day_sheet_csv import day_sheet_csv
from scheduler.documents.state.delivery_dates import date_csv
from scheduler.documents.store.material_csv import cartridges_csv, openings_csv, purchases_csv, statement_csv, warmers_csv
from scheduler.documents.store.pick_list_csv import pick_list_csv
from scheduler.documents.words.work_words import WorkWords
from scheduler.record.events import AnyEvent
from scheduler.record.standing import standing
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop


def write_report(
    shop: Shop,
    schedule: Schedule,
    check_report: CheckReport,
    folder: Path,
    earlier: Schedule | None = None,
    recorded: Iterable[AnyEvent] = (),
) -> tuple[Path, ...]:
    """Write the report of a schedule into a folder.

    Parameters
    ----------
    shop : Shop
    schedule : Schedule
        Of that shop.
    check_report : CheckReport
        What the check says of it.
    folder : Path
        New, empty or an earlier report, which is replaced whole.
    earlier : Schedule, optional
        Plan that this one replaces; the report then says what changed.
    recorded : iterable of AnyEvent
        What has happened, for the records of the units.

    Returns
    -------
    tuple of Path
        Files written; ``index.html`` first.

    Raises
    ------
    NotAReportError
        If the folder holds files but no earlier report.
    OSError
        If the files cannot be written; an earlier report is as it was.
    """
    refuse_foreign(folder)
    return put_in_place(dict(_texts(WorkWords(shop, schedule, standing(recorded)), check_report, earlier)), folder)


def _texts(words: WorkWords, check_report: CheckReport, earlier: Schedule | None) -> Iterator[tuple[str, str]]:
    """Names and texts of all files."""
    days = report_days(words)
    yield "index.html", index_page(words, check_report, days, PAPERS, earlier)
    yield "units.html", units_page(words)
    yield "schedule.json", words.schedule.model_dump_json(indent=1)
    yield "schedule-schema.json", json.dumps(Schedule.model_json_schema(), indent=1)
    yield "dates.csv", date_csv(words.schedule)
    yield "statement.csv", statement_csv(words)
    yield "purchases.csv", purchases_csv(words)
    yield "openings.csv", openings_csv(words)
    yield "warmers.csv", warmers_csv(words)
    yield "cartridges.csv", cartridges_csv(words)
    for day in days:
        yield from _texts_of_day(words, day)


def _texts_of_day(words: WorkWords, day: ReportDay) -> Iterator[tuple[str, str]]:
    yield f"day-{day.day}.html", day_page(words, day.sheet)
    yield f"day-{day.day}.csv", day_sheet_csv(day.sheet, words.time)
    yield f"crew-{day.day}.html", crew_page(words, day.sheet)
    yield f"pick-{day.day}.html", pick_page(words, day.picks)
    yield f"pick-{day.day}.csv", pick_list_csv(day.picks)
