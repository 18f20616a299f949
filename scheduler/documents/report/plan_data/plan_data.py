"""The plan as the page gets it."""

from typing import Any, Final

from scheduler.documents.charts.bars import Bar, stay_bars
from scheduler.documents.charts.chart_text import chart_text
from scheduler.documents.charts.closed_weather import closed_weather
from scheduler.documents.charts.rows import LONGEST_LABEL, Rows, rows_of, short_labels
from scheduler.documents.charts.shut import nobody_there, people_away, shut_bays
from scheduler.documents.charts.views import day_views, week_views, whole_span
from scheduler.documents.report.plan_data.axis import Axis
from scheduler.documents.report.plan_data.day_rows import day_rows
from scheduler.documents.report.plan_data.load_rows import load_rows
from scheduler.documents.report.plan_data.text_pool import TextPool
from scheduler.documents.report.plan_data.unit_rows import order_rows, unit_rows
from scheduler.documents.report.plan_data.work_rows import people_of, units_of, work_rows
from scheduler.documents.report.report_days import ReportDay
from scheduler.documents.words.packs_words import CARTRIDGE_HEADS
from scheduler.documents.words.step_marks import MARKS
from scheduler.documents.words.work_words import WorkWords

MOST_BARS: Final = 2000
"""Bars that a browser draws at once without a wait; a plan with more is shown a week or a day at a time."""
MOST_TEXTS: Final = 300


def plan_data(words: WorkWords, days: tuple[ReportDay, ...]) -> dict[str, Any]:
    """Everything that the page draws, as plain lists and dicts.

    Parameters
    ----------
    words : WorkWords
        The schedule with its shop.
    days : tuple of ReportDay
        Sheet and pick list of each day.

    Returns
    -------
    dict
        ``text`` holds every text once, and whatever is called a text below is an index into it. Times are minutes on the
        clock of the site since ``origin_ms``. ``strips`` are what lies behind the work: kind, row, start, length, text,
        texts beside the pointer, unit.
    """
    pool, axis, rows = TextPool(), Axis(words), rows_of(words)
    units = units_of(words.schedule)
    strips = (*closed_weather(words, rows), *shut_bays(words, rows), *stay_bars(words, rows))
    data = {
        "origin_ms": axis.origin_ms,
        "zone": words.shop.site.zone,
        "most": {"bars": MOST_BARS, "texts": MOST_TEXTS},
        "marks": {kind: [mark.letter, mark.label, mark.fill, mark.hatch] for kind, mark in MARKS.items()},
        "rows": _labels(words, rows),
        "people": [pool(words.person(person_id)) for person_id in people_of(words)],
        "orders": order_rows(words, axis, pool),
        "units": unit_rows(words, pool),
        "work": work_rows(words, rows, axis, pool),
        "strips": [_strip(bar, axis, pool, units) for bar in strips],
        "away": [_strip(bar, axis, pool, units) for bar in people_away(words, rows)],
        "closed": [axis.span(*span) for span in nobody_there(words, *whole_span(words))],
        "loads": load_rows(words, axis),
        "views": {"weeks": _views(week_views(words), axis), "days": _views(day_views(words), axis)},
        "begins": axis.at(words.shop.site.plan_from),
        "forecast_until": _forecast_end(words, axis),
        "cartridge_heads": list(CARTRIDGE_HEADS),
        "days": day_rows(words, days, axis, pool),
    }
    return data | {"text": pool.texts}


def _labels(words: WorkWords, rows: Rows) -> dict[str, list[str]]:
    short_bays, short_crew = short_labels(words)
    return {
        "bays": list(rows.bay_labels),
        "crew": list(rows.crew_labels),
        "short_bays": short_bays,
        "short_crew": short_crew,
    }


def _strip(bar: Bar, axis: Axis, pool: TextPool, units: dict[str, int]) -> list[object]:
    start, end = axis.of_ms(bar.start_ms), axis.of_ms(bar.start_ms + bar.span_ms)
    text, says = pool(chart_text(bar.text, LONGEST_LABEL)), [pool(line) for line in bar.says]
    return [bar.kind, bar.row, start, end - start, text, says, units.get(bar.unit_id)]


def _views(views: list[Any], axis: Axis) -> list[dict[str, Any]]:
    return [{"label": view["label"], "from": axis.of_ms(view["from"]), "to": axis.of_ms(view["to"])} for view in views]


def _forecast_end(words: WorkWords, axis: Axis) -> int | None:
    until, site = words.schedule.forecast_until, words.shop.site
    return axis.at(until) if until and site.plan_from < until < site.plan_until else None


def kinds_drawn(data: dict[str, Any]) -> set[str]:
    """Marks that the charts of the data use."""
    steps = {row[1] for row in data["work"]}
    return steps | {strip[0] for strip in (*data["strips"], *data["away"])}
