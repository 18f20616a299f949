"""Pictures of every week of a plan, by bay and by person, as images that stand in a page."""

import base64
from dataclasses import dataclass
from datetime import date

from scheduler.documents.charts.bars import Bar, crew_bars, stay_bars, step_bars
from scheduler.documents.charts.closed_weather import closed_weather
from scheduler.documents.charts.rows import rows_of
from scheduler.documents.charts.shut import nobody_there, people_away, shut_bays
from scheduler.documents.charts.views import weeks_of, whole_span
from scheduler.documents.charts.week_picture import Week, week_picture
from scheduler.documents.words.work_words import WorkWords
from scheduler.shop.day_words import day_text


@dataclass(frozen=True, slots=True)
class WeekChart:
    """Pictures of one week.

    Attributes
    ----------
    title : str
        Which week.
    pictures : tuple of (str, str)
        What each shows, in words, and the picture as a ``data:`` address.
    """

    title: str
    pictures: tuple[tuple[str, str], ...]


def week_charts(words: WorkWords) -> tuple[WeekChart, ...]:
    """Pictures of each week, by bay and by person."""
    rows, time = rows_of(words), words.time
    closed = tuple((time.axis_ms(a), time.axis_ms(b)) for a, b in nobody_there(words, *whole_span(words)))
    in_bays = (*closed_weather(words, rows), *shut_bays(words, rows), *stay_bars(words, rows), *step_bars(words, rows))
    by_person = (*people_away(words, rows), *crew_bars(words, rows))
    parts = (("bay", rows.bay_labels, in_bays, (0.46, 0.48)), ("person", rows.crew_labels, by_person, (0.1, 0.8)))
    weeks = [_week(words, *span, closed) for span in weeks_of(words)]
    return tuple(WeekChart(f"Week of {day_text(week.first)}", tuple(_picture(week, *part) for part in parts)) for week in weeks)


def _week(words: WorkWords, first: date, end: date, closed: tuple[tuple[int, int], ...]) -> Week:
    start_ms, end_ms = (words.time.axis_ms(words.time.midnight(day)) for day in (first, end))
    inside = tuple((max(a, start_ms), min(b, end_ms)) for a, b in closed if a < end_ms and b > start_ms)
    return Week(first, end, start_ms, end_ms, inside)


def _picture(
    week: Week, what: str, labels: tuple[str, ...], bars: tuple[Bar, ...], shape: tuple[float, float]
) -> tuple[str, str]:
    drawing = week_picture(week, labels, bars, shape)
    source = "data:image/svg+xml;base64," + base64.b64encode(drawing.encode("utf-8")).decode("ascii")
    return f"Week of {day_text(week.first)} by {what}", source
