"""The content of the chart as tables: for who reads with the ears, with a printer or with a spreadsheet's eye."""

from bisect import bisect_right
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from typing import Final

from scheduler.documents.charts.loads import Level, air_load, crew_load, warmer_load
from scheduler.documents.reading_units import Limit
from scheduler.documents.table import Table
from scheduler.documents.work_words import WorkWords
from scheduler.schedule.schedule import Span, Work

_HOUR: Final = timedelta(hours=1)


def bay_table(words: WorkWords) -> Table:
    """All work, by bay and time."""
    order = {bay.bay_id: i for i, bay in enumerate(words.shop.bays)}
    last = len(order)
    works = sorted(words.schedule.work, key=lambda w: (order.get(w.bay_id or "", last), words.place_number(w), w.start))
    rows = ((words.place(w), *_times(words, s), words.step(w), words.unit(w.unit_id)) for w in works for s in w.spans)
    return Table("Work by bay", ("bay", "from", "to", "step", "unit"), tuple(rows))


def crew_table(words: WorkWords) -> Table:
    """All work, by person and time."""
    order = {person.person_id: i for i, person in enumerate(words.shop.crew)}
    shares = [(a.person_id, w) for w in words.schedule.work for a in w.people]
    shares.sort(key=lambda share: (order.get(share[0], len(order)), share[1].start))
    rows = ((words.person(p), *_times(words, s), words.step(w), words.unit(w.unit_id)) for p, w in shares for s in w.spans)
    return Table("Work by person", ("person", "from", "to", "step", "unit"), tuple(rows))


def load_table(words: WorkWords) -> Table:
    """Highest use in each hour in which something is in use, and the least that is there in that hour."""
    shop, schedule, air = words.shop, words.schedule, words.units.air
    crew, flow, warm = crew_load(shop, schedule), air_load(shop, schedule), warmer_load(shop, schedule)
    rows = []
    for hour in _hours(schedule.work):
        people, litres, slots = (peak(load.in_use, hour, max) for load in (crew, flow, warm))
        if people or litres or slots:
            there = [peak(load.there, hour, min) for load in (crew, flow, warm)]
            demand, supply = air.text(litres, Limit.AT_LEAST), air.text(there[1], Limit.AT_MOST)
            row = (f"{people:.0f}", f"{there[0]:.0f}", demand, supply, f"{slots:.0f}", f"{there[2]:.0f}")
            rows.append((words.time.text(hour), *row))
    heads = ("hour from", "people at work", "people on shift", "mean air demand", "air supply", "slots used", "slots there")
    return Table("Load by the hour: most in use, least there", heads, tuple(rows))


def peak(level: Level, start: datetime, choose: Callable[..., float]) -> float:
    """Highest or lowest value of a level within the hour from ``start``."""
    first = bisect_right(level.moments, start)
    last = bisect_right(level.moments, start + _HOUR - timedelta(microseconds=1))
    before = level.values[first - 1] if first else 0.0
    return choose(before, *level.values[first:last]) if last > first else before


def _hours(works: tuple[Work, ...]) -> Iterator[datetime]:
    if not works:
        return
    loaded = [load.loaded_at for w in works for load in w.loads]
    hour = min(*loaded, *(w.start for w in works), works[0].start).replace(minute=0, second=0, microsecond=0)
    end = max(w.end for w in works)
    while hour < end:
        yield hour
        hour += _HOUR


def _times(words: WorkWords, span: Span) -> tuple[str, str]:
    day_too = words.time.day(span.start) != words.time.day(span.end)
    return words.time.text(span.start), (words.time.text if day_too else words.time.clock)(span.end)
