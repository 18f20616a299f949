"""A chart of the days that change for each person and each bay: a row for whoever feels it, a bar for each day."""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from scheduler.documents.words.local_time import LocalTime
from scheduler.schedule.changes import Changes
from scheduler.schedule.schedule import Work
from scheduler.shop.day_words import day_text

HEAD: Final = 30
ROW: Final = 44
TALLEST: Final = 24
SHORTEST: Final = 4
"""Height of the head, of a row and of bars, in pixels; across everything is in per cent."""
MOST_TICKS: Final = 8
WIDEST: Final = 0.86
"""Share of a day's width that its bar takes."""
Steps = Counter[date]


@dataclass(frozen=True, slots=True)
class Mark:
    """A day that changes, the taller the more steps of it do."""

    x: float
    width: float
    height: int
    says: str


@dataclass(frozen=True, slots=True)
class DayRow:
    """A person or a bay."""

    y: int
    label: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class DayTick:
    """A day that is named on the axis; two of three are ``spare`` and have no room on a phone."""

    x: float
    text: str
    spare: bool


@dataclass(frozen=True, slots=True)
class DayChart:
    """Rows of people, then of bays, over the days that change; ``most`` steps make the tallest bar."""

    height: int
    head: int
    most: int
    rows: tuple[DayRow, ...]
    ticks: tuple[DayTick, ...]


def changed_days(found: Changes, time: LocalTime) -> DayChart | None:
    """Lay the chart out; None where nobody's day changes."""
    people = _steps(found, time, lambda work: [person.person_id for person in work.people])
    bays = _steps(found, time, lambda work: [work.bay_id] if work.bay_id else [])
    everybody = {**_named("", people), **_named("bay ", bays)}
    days = sorted({day for steps in everybody.values() for day in steps})
    if not days:
        return None
    first, count = days[0], (days[-1] - days[0]).days + 1
    most = max(max(steps.values()) for steps in everybody.values())
    rows = tuple(_row(n, label, steps, (first, count), most) for n, (label, steps) in enumerate(everybody.items()))
    return DayChart(HEAD + ROW * len(rows) + 4, HEAD, most, rows, _ticks(first, count))


def _ticks(first: date, count: int) -> tuple[DayTick, ...]:
    named = range(0, count, 1 + count // MOST_TICKS)
    return tuple(DayTick(_x(n, count), day_text(first + timedelta(days=n)), spare=at % 3 > 0) for at, n in enumerate(named))


def _steps(found: Changes, time: LocalTime, touched: Callable[[Work], Iterable[str]]) -> dict[str, Steps]:
    """How many steps of each day come, go or move, by the names that ``touched`` gives; one that stays on its day counts once."""
    seen = {
        (name, time.day(span.start), work.work_id)
        for work in (*(w for m in found.moves for w in (m.before, m.after)), *found.new, *found.gone)
        for name in touched(work)
        for span in work.spans
    }
    steps: dict[str, Steps] = {}
    for name, day, _ in sorted(seen):
        steps.setdefault(name, Counter())[day] += 1
    return steps


def _named(kind: str, found: Mapping[str, Steps]) -> dict[str, Steps]:
    """By name, W2 before W10."""
    by_name = sorted(found.items(), key=lambda row: _parts(row[0]))
    return {f"{kind}{name}": steps for name, steps in by_name}


def _parts(name: str) -> list[tuple[int, str]]:
    return [(int(part), "") if part.isdigit() else (-1, part) for part in re.split(r"(\d+)", name)]


def _row(number: int, label: str, steps: Steps, axis: tuple[date, int], most: int) -> DayRow:
    first, count = axis
    width = round(WIDEST * 100 / count, 3)
    marks = (
        Mark(_x((day - first).days, count), width, _height(n, most), f"{label}, {day_text(day)}: {n} step{'s' if n > 1 else ''}")
        for day, n in steps.items()
    )
    days = f"{len(steps)} day{'s' if len(steps) > 1 else ''}"
    return DayRow(HEAD + ROW * number, f"{label}: {days}, {steps.total()} step{'s' if steps.total() > 1 else ''}", tuple(marks))


def _height(steps: int, most: int) -> int:
    return SHORTEST + round((TALLEST - SHORTEST) * steps / most)


def _x(day: int, count: int) -> float:
    return round(100 * day / count, 3)
