"""A page with the difference of two schedules: a chart of the hand-overs that move, and the tables."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from scheduler.documents.changes.change_words import change_sentence, change_tables, shift_text
from scheduler.documents.pages.pages import page
from scheduler.documents.words.local_time import LocalTime, day_text
from scheduler.schedule.changes import Changes, DateMove

WIDTH, LABELS, ROW, HEAD = 960, 220, 30, 34
MOST_TICKS = 10
Scale = Callable[[datetime], float]


@dataclass(frozen=True, slots=True)
class Tick:
    """A local midnight on the axis."""

    x: float
    text: str


@dataclass(frozen=True, slots=True)
class Row:
    """One order: where its hand-over was, is and is due, in units of the drawing; ``says`` is the same in words."""

    y: float
    label: str
    due_x: float
    was_x: float | None
    now_x: float | None
    late: bool
    says: str


@dataclass(frozen=True, slots=True)
class HandOverChart:
    """Hand-overs that move, an order a row."""

    width: int
    height: int
    rows: tuple[Row, ...]
    ticks: tuple[Tick, ...]


def change_page(site: str, found: Changes, time: LocalTime) -> str:
    """Page of a comparison, whole in one file.

    Parameters
    ----------
    site : str
        Name of the site.
    found : Changes
    time : LocalTime
    """
    return page("changes.html", "report", site=site, **change_values(found, time))


def change_values(found: Changes, time: LocalTime) -> dict[str, Any]:
    """What a template needs to tell a comparison."""
    return {
        "sentence": change_sentence(found, time),
        "chart": hand_over_chart(found, time) if found.dates else None,
        "labels_x": LABELS - 12,
        "head": HEAD,
        "tables_of_changes": change_tables(found, time),
    }


def hand_over_chart(found: Changes, time: LocalTime) -> HandOverChart:
    """Lay the chart out; there is at least one hand-over that moves."""
    moments = [m for move in found.dates for m in _moments(move)]
    first, last = time.midnight(time.day(min(moments))), max(moments) + timedelta(hours=12)

    def x(moment: datetime) -> float:
        return round(LABELS + (WIDTH - LABELS - 20) * ((moment - first) / (last - first)), 1)

    rows = tuple(_row(move, HEAD + ROW * (n + 0.5), x, time) for n, move in enumerate(found.dates))
    days = list(time.days(first, last))
    ticks = tuple(Tick(x(time.midnight(day)), day_text(day)) for day in days[:: 1 + len(days) // MOST_TICKS])
    return HandOverChart(WIDTH, HEAD + ROW * len(rows) + 10, rows, ticks)


def _moments(move: DateMove) -> Iterator[datetime]:
    yield move.either.due_at
    yield from (side.delivered_at for side in (move.before, move.after) if side is not None)


def _row(move: DateMove, y: float, x: Scale, time: LocalTime) -> Row:
    row = move.either
    was = x(move.before.delivered_at) if move.before else None
    now = x(move.after.delivered_at) if move.after else None
    change = shift_text(move.shift) if move.shift is not None else ("new" if move.after else "not planned any more")
    says = f"{row.order_id}, {row.customer}: {change}, due {time.text(row.due_at)}"
    late = move.after is not None and move.after.days_late > 0
    return Row(y, f"{row.order_id} {row.customer}"[:30], x(row.due_at), was, now, late, says)
