"""Stretches of time that the chart shows: each week of the plan, and each day from before its first to after its last work."""

from collections import defaultdict
from datetime import date, timedelta
from typing import Final, TypedDict

from scheduler.documents.words.work_words import WorkWords
from scheduler.shop.day_words import day_text
from scheduler.shop.working_time import Span

_DAY: Final = timedelta(days=1)
_HOUR_MS: Final = 3_600_000
View = TypedDict("View", {"label": str, "from": int, "to": int})


def week_views(words: WorkWords) -> list[View]:
    """Weeks from Monday; the first begins and the last ends with the days of the plan that hold work."""
    time = words.time
    return [
        {"label": f"Week of {day_text(a)}", "from": time.axis_ms(time.midnight(a)), "to": time.axis_ms(time.midnight(b))}
        for a, b in weeks_of(words)
    ]


def weeks_of(words: WorkWords) -> list[tuple[date, date]]:
    """First day of each week and the day after its last."""
    days = words.by_day.days
    weeks = []
    first, end = (days[0], days[-1] + _DAY) if days else (date.max, date.min)
    while first < end:
        last = min(first + timedelta(days=7 - first.weekday()), end)
        weeks.append((first, last))
        first = last
    return weeks


def day_views(words: WorkWords) -> list[View]:
    """Days on which something is done or loaded, an hour longer at both ends but never beyond midnight."""
    views: list[View] = []
    for day, moments in sorted(_moments_by_day(words).items()):
        midnight = words.time.axis_ms(words.time.midnight(day))
        first, last = min(moments), max(moments)
        start = max(midnight, first // _HOUR_MS * _HOUR_MS - _HOUR_MS)
        end = min(midnight + 24 * _HOUR_MS, -(-last // _HOUR_MS) * _HOUR_MS + _HOUR_MS)
        views.append({"label": day_text(day), "from": start, "to": end})
    return views


def whole_span(words: WorkWords) -> Span:
    """Whole days from the first to the last that the chart can show; the horizon where there is no work."""
    weeks, site = weeks_of(words), words.shop.site
    if not weeks:
        return site.plan_from, site.plan_until
    return words.time.midnight(weeks[0][0]), words.time.midnight(weeks[-1][1])


def _moments_by_day(words: WorkWords) -> dict[date, list[int]]:
    """Moments of work on the axis, by local day; of work over midnight, the part of each day."""
    time, days = words.time, words.by_day
    moments: dict[date, list[int]] = defaultdict(list)
    for day, spans in days.spans.items():
        midnight = time.axis_ms(time.midnight(day))
        for _, span in spans:
            moments[day].append(max(midnight, time.axis_ms(span.start)))
            moments[day].append(min(midnight + 24 * _HOUR_MS, time.axis_ms(span.end)))
    for day, loads in days.loaded.items():
        moments[day].extend(time.axis_ms(load.loaded_at) for load, _ in loads)
    return moments
