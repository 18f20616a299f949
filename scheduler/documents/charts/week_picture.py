"""A week by bay or by person as a picture in SVG, for paper: the same rows, letters and hatchings as on the screen."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from html import escape
from typing import Final

from scheduler.documents.charts.bars import Bar
from scheduler.documents.charts.folded_time import HOUR_MS, FoldedTime, folded_time
from scheduler.documents.words.step_marks import HATCH_PATHS, INK, MARKS, STRIPS
from scheduler.shop.day_words import day_text

WIDTH: Final = 1040
LEFT: Final = 166
TOP: Final = 30
ROW: Final = 30
_LETTER: Final = 6.2
_DAY_LABEL: Final = 62
_SHAPES: Final = {"weather": (0.0, 1.0), "shut": (0.0, 1.0), "stay": (0.05, 0.4)}


@dataclass(frozen=True, slots=True)
class Week:
    """What a picture shows.

    Attributes
    ----------
    first, end : date
        First day and the day after the last.
    start_ms, end_ms : int
        The same on the axis of wall time.
    closed : tuple of (start, end)
        Stretches on that axis in which nobody is there.
    """

    first: date
    end: date
    start_ms: int
    end_ms: int
    closed: tuple[tuple[int, int], ...]


def week_picture(week: Week, labels: Iterable[str], bars: Iterable[Bar], step_shape: tuple[float, float]) -> str:
    """Draw a week.

    Parameters
    ----------
    week : Week
    labels : iterable of str
        Names of the rows, from the top.
    bars : iterable of Bar
        What lies behind comes first.
    step_shape : (float, float)
        Where in its row the bar of a step begins and how high it is, of 1.

    Returns
    -------
    str
        An SVG document; texts are escaped.
    """
    names, time = list(labels), folded_time(week.start_ms, week.end_ms, week.closed)
    height = TOP + ROW * max(1, len(names)) + 6
    shown = [bar for bar in bars if bar.start_ms < week.end_ms and bar.start_ms + bar.span_ms > week.start_ms]
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" font-size="11" fill="{INK}"'
        ' font-family="Liberation Sans, DejaVu Sans, sans-serif">',
        *_patterns({bar.kind for bar in shown}),
        *_ground(week, time, height, names),
        *(part for bar in shown for part in _bar(bar, time, _SHAPES.get(bar.kind, step_shape))),
        "</svg>",
    ]
    return "\n".join(parts)


def _patterns(kinds: Iterable[str]) -> Iterator[str]:
    for kind in sorted(kinds):
        mark = MARKS[kind]
        path = f'<path d="{HATCH_PATHS[mark.hatch] or "M0 0"}" stroke="{INK}" stroke-width=".7" stroke-opacity=".5" fill="none"/>'
        tile = f'<rect width="6" height="6" fill="{mark.fill}"/>{path}'
        yield f'<pattern id="{kind}" width="6" height="6" patternUnits="userSpaceOnUse">{tile}</pattern>'


def _ground(week: Week, time: FoldedTime, height: int, names: list[str]) -> Iterator[str]:
    """Closed times, days and rows."""
    for a, b in week.closed:
        x, width = _across(time, a, b)
        if width > 0:
            yield f'<rect x="{x}" y="{TOP}" width="{width}" height="{height - TOP - 6}" fill="#e4e6e8"/>'
    for day, x in _days(week, time):
        if x < WIDTH - _DAY_LABEL:
            yield f'<text x="{x}" y="{TOP - 10}" font-weight="bold">{day_text(day)}</text>'
        yield f'<path d="M{x} {TOP - 6}V{height - 6}" stroke="#8a9299" stroke-width=".6"/>'
    for row, name in enumerate(names):
        yield from _label(name, TOP + ROW * row + ROW / 2 + 4)
        yield f'<path d="M{LEFT} {TOP + ROW * (row + 1)}H{WIDTH - 4}" stroke="#d5d9dc" stroke-width=".6"/>'


def _label(name: str, y: float) -> Iterator[str]:
    """Name of a row, on two lines if it has a break."""
    lines = name.split("\n")
    for i, line in enumerate(lines):
        at = y + 12 * i - 6 * (len(lines) - 1)
        yield f'<text x="{LEFT - 6}" y="{at}" text-anchor="end">{escape(line)}</text>'


def _days(week: Week, time: FoldedTime) -> Iterator[tuple[date, float]]:
    """Days with the places at which they open; one on which nobody is there has none."""
    for days in range((week.end - week.first).days):
        start = week.start_ms + days * 24 * HOUR_MS
        opens = next((b for a, b in week.closed if a <= start < b), start)
        if opens < start + 24 * HOUR_MS:
            yield week.first + timedelta(days=days), _across(time, opens, opens)[0]


def _bar(bar: Bar, time: FoldedTime, shape: tuple[float, float]) -> Iterator[str]:
    x, width = _across(time, bar.start_ms, bar.start_ms + bar.span_ms)
    y, height = round(TOP + ROW * (bar.row + shape[0]), 1), round(ROW * shape[1], 1)
    faint = bar.kind in ("weather", "shut")
    line = "" if faint else f' stroke="{INK}" stroke-width=".6"'
    yield f'<rect x="{x}" y="{y}" width="{max(width, 0.8)}" height="{height}" fill="url(#{bar.kind})"{line}/>'
    text = next(
        (cut for cut in (bar.text, bar.text[:1] if bar.kind not in STRIPS else "") if cut and len(cut) * _LETTER < width), ""
    )
    if text:
        plain = (
            f'<rect x="{x + 1}" y="{y + 1}" width="{len(text) * _LETTER}" height="{height - 2}" fill="{MARKS[bar.kind].fill}"/>'
        )
        yield f'{plain}<text x="{x + 2}" y="{y + height - 3}" font-size="10">{escape(text)}</text>'


def _across(time: FoldedTime, start_ms: int, end_ms: int) -> tuple[float, float]:
    first, last = (LEFT + (WIDTH - LEFT - 4) * time.place(moment) for moment in (start_ms, end_ms))
    return round(first, 1), round(last - first, 1)
