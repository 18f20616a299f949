"""The report: one page that holds everything, with the sheets and lists of each day beside it."""

import json
from pathlib import Path

from scheduler.check.breach import CheckReport
from scheduler.documents.cautions import RULE, all_cautions
from scheduler.documents.charts.chart_data import chart_data, legend_of, pooled, views_of
from scheduler.documents.charts.plan_chart import plan_chart
from scheduler.documents.charts.plan_tables import bay_table, crew_table, load_table
from scheduler.documents.charts.progress_chart import progress_chart, progress_table
from scheduler.documents.day_sheet import DaySheet, day_sheets
from scheduler.documents.day_sheet_csv import day_sheet_csv
from scheduler.documents.delivery_dates import date_csv, date_rows, hand_over_table
from scheduler.documents.dew_point_table import dew_point_table
from scheduler.documents.local_time import long_day_text
from scheduler.documents.pages import chart_library, page, template_text
from scheduler.documents.pick_list import PickList, pick_list
from scheduler.documents.pick_list_csv import pick_list_csv
from scheduler.documents.plan_state import facts, goals_table, headline, rules_table
from scheduler.documents.report_folder import put_in_place, refuse_foreign
from scheduler.documents.table import Table
from scheduler.documents.unit_steps import unit_steps
from scheduler.documents.work_words import WorkWords
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop


def write_report(shop: Shop, schedule: Schedule, check_report: CheckReport, folder: Path) -> tuple[Path, ...]:
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
    words = WorkWords(shop, schedule)
    sheets = day_sheets(words)
    dew_points = dew_point_table(words.units, shop.site.reads)
    lists = tuple(pick_list(words, sheet.day) for sheet in sheets)
    texts = {
        "index.html": index_page(words, check_report, sheets, lists),
        "schedule.json": schedule.model_dump_json(indent=1),
        "schedule-schema.json": json.dumps(Schedule.model_json_schema(), indent=1),
        "dates.csv": date_csv(schedule),
    }
    for sheet, picks in zip(sheets, lists, strict=True):
        texts[f"day-{sheet.day}.html"] = day_page(words, sheet, dew_points)
        texts[f"day-{sheet.day}.csv"] = day_sheet_csv(sheet, words.time)
        texts[f"pick-{sheet.day}.html"] = pick_page(words, picks)
        texts[f"pick-{sheet.day}.csv"] = pick_list_csv(picks)
    return put_in_place(texts, folder)


def index_page(words: WorkWords, report: CheckReport, sheets: tuple[DaySheet, ...], lists: tuple[PickList, ...]) -> str:
    """The page that holds everything."""
    provenance = words.schedule.provenance
    figure, progress = plan_chart(words), progress_chart(provenance)
    return page(
        "index.html",
        (chart_library(), template_text("report.js")),
        site=words.shop.site.name,
        period=(
            long_day_text(words.time.day(words.schedule.plan_from)),
            long_day_text(words.time.day(words.schedule.plan_until)),
        ),
        headline=headline(words, report),
        ok=report.ok,
        dates=date_rows(words.schedule),
        hand_overs=hand_over_table(words.schedule),
        goals=goals_table(words.schedule),
        rules=rules_table(report),
        mismatched=report.mismatched_goals,
        legend=legend_of(figure),
        plan=pooled(chart_data(figure)),
        views=views_of(words),
        progress=chart_data(progress) if progress else None,
        progress_points=progress_table(provenance),
        tables_of_plan=(bay_table(words), crew_table(words), load_table(words)),
        days=[(long_day_text(sheet.day), sheet, picks) for sheet, picks in zip(sheets, lists, strict=True)],
        units=unit_steps(words),
        facts=facts(provenance, words.time),
        cautions=all_cautions(),
        rule=RULE,
    )


def day_page(words: WorkWords, sheet: DaySheet, dew_points: Table) -> str:
    """The sheet of a day as a page of its own; on days with films the dew points stand on its back."""
    values = {"title": long_day_text(sheet.day), "site": words.shop.site.name, "rule": RULE}
    return page("day.html", sheet=sheet, dew_points=dew_points if any(row.is_film for row in sheet.rows) else None, **values)


def pick_page(words: WorkWords, picks: PickList) -> str:
    """The pick list of a day as a page of its own."""
    return page("pick.html", picks=picks, title=long_day_text(picks.day), site=words.shop.site.name)
