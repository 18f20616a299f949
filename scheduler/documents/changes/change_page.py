"""A page with the difference of two schedules: charts of the hand-overs that move and of changed days, and the tables."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from textwrap import shorten
from typing import Any

from scheduler.documents.changes.change_words import change_sentence, change_tables, shift_text
from scheduler.documents.changes.changed_days import changed_days
from scheduler.documents.pages.pages import page
from scheduler.documents.words.local_time import LocalTime
from scheduler.schedule.changes import Changes, DateMove
from scheduler.shop.day_words import day_text

HEAD, ROW = 30, 44
"""Height of the head and of a row, in pixels; across it everything is in per cent, so that letters keep their size on a phone."""
MARGIN_PCT = 2.5
MOST_TICKS = 10
MOST_ROWS = 40
LONGEST_LABEL = 44
Scale = Callable[[datetime], float]


@dataclass(frozen=True, slots=True)
class Tick:
    """A local midnight on the axis; two of three are ``spare`` and have no room on a phone."""

    x: float
    text: str
    spare: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One order: where its hand-over was, is and is due, in per cent across; ``says`` is the same in words."""

    y: float
    label: str
    due_x: float
    was_x: float | None
    now_x: float | None
    late: bool
    says: str


@dataclass(frozen=True, slots=True)
class HandOverChart:
    """Hand-overs that move, an order a row; ``left_out`` move less than all of them and are not drawn."""

    height: int
    head: int
    rows: tuple[Row, ...]
    ticks: tuple[Tick, ...]
    left_out: int = 0


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
        "day_chart": changed_days(found),
        "tables_of_changes": change_tables(found, time),
    }


def hand_over_chart(found: Changes, time: LocalTime) -> HandOverChart:
    """Lay the chart out; there is at least one hand-over that moves."""
    drawn = _that_move_most(found.dates)
    moments = [m for move in drawn for m in _moments(move)]
    first, last = time.midnight(time.day(min(moments))), max(moments) + timedelta(hours=12)

    def x(moment: datetime) -> float:
        return round(MARGIN_PCT + (100 - 2 * MARGIN_PCT) * ((moment - first) / (last - first)), 2)

    rows = tuple(_row(move, HEAD + ROW * n, x, time) for n, move in enumerate(drawn))
    days = list(time.days(first, last))
    shown = enumerate(days[:: 1 + len(days) // MOST_TICKS])
    ticks = tuple(Tick(x(time.midnight(day)), day_text(day), spare=n % 3 > 0) for n, day in shown)
    return HandOverChart(HEAD + ROW * len(rows) + 10, HEAD, rows, ticks, len(found.dates) - len(drawn))


def _that_move_most(dates: Sequence[DateMove]) -> list[DateMove]:
    """Hand-overs in their order; where there are many, new ones, those that fall away and those that move most."""
    by_shift = sorted(dates, key=lambda move: timedelta.max if move.shift is None else abs(move.shift), reverse=True)
    most = {id(move) for move in by_shift[:MOST_ROWS]}
    return [move for move in dates if id(move) in most]


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
    label = shorten(f"{row.order_id} {row.customer}", LONGEST_LABEL, placeholder="…")
    return Row(y, label, x(row.due_at), was, now, late, says)
