"""A chart of the days that change for each person and each bay: a row for whoever feels it, a mark for each day."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from scheduler.schedule.changes import Changes
from scheduler.shop.day_words import day_text

HEAD: Final = 30
ROW: Final = 34
"""Height of the head and of a row, in pixels; across everything is in per cent."""
MOST_TICKS: Final = 8
WIDEST: Final = 0.86
"""Share of a day's width that its mark takes."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A day that changes."""

    x: float
    width: float
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
    """Rows of people, then of bays, over the days from the first to the last that changes."""

    height: int
    head: int
    rows: tuple[DayRow, ...]
    ticks: tuple[DayTick, ...]


def changed_days(found: Changes) -> DayChart | None:
    """Lay the chart out; None where nobody's day changes."""
    everybody = {**_named("", found.people), **_named("bay ", found.bays)}
    days = sorted({day for changed in everybody.values() for day in changed})
    if not days:
        return None
    first, count = days[0], (days[-1] - days[0]).days + 1
    rows = tuple(_row(n, label, changed, first, count) for n, (label, changed) in enumerate(everybody.items()))
    named = range(0, count, 1 + count // MOST_TICKS)
    ticks = tuple(
        DayTick(_x(n, count), day_text(date.fromordinal(first.toordinal() + n)), spare=at % 3 > 0) for at, n in enumerate(named)
    )
    return DayChart(HEAD + ROW * len(rows) + 4, HEAD, rows, ticks)


def _named(kind: str, found: Mapping[str, tuple[date, ...]]) -> dict[str, tuple[date, ...]]:
    """By name, W2 before W10."""
    by_name = sorted(found.items(), key=lambda row: _parts(row[0]))
    return {f"{kind}{name}": days for name, days in by_name}


def _parts(name: str) -> list[tuple[int, str]]:
    return [(int(part), "") if part.isdigit() else (-1, part) for part in re.split(r"(\d+)", name)]


def _row(number: int, label: str, changed: Sequence[date], first: date, count: int) -> DayRow:
    marks = (Mark(_x((day - first).days, count), round(WIDEST * 100 / count, 3), f"{label}, {day_text(day)}") for day in changed)
    counted = f"{len(changed)} day{'s' if len(changed) > 1 else ''}"
    return DayRow(HEAD + ROW * number, f"{label}: {counted}", tuple(marks))


def _x(day: int, count: int) -> float:
    return round(100 * day / count, 3)
