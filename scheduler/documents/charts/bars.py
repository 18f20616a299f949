"""Bars of the charts: which row, from when, how long, which mark, and what is said about it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from scheduler.documents.charts.chart_text import chart_text, hover_lines
from scheduler.documents.charts.rows import Rows
from scheduler.documents.local_time import duration_text
from scheduler.documents.work_words import WorkWords
from scheduler.schedule.schedule import Span, Stay, Work


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar.

    Attributes
    ----------
    kind : str
        Key of its mark, one of the steps or of the strips.
    row : int
        Index of its row, 0 on top.
    start_ms, span_ms : int
        On the wall-time axis of :meth:`scheduler.documents.local_time.LocalTime.axis_ms`.
    text : str
        On the bar, inert.
    hover : str
        Beside the pointer, inert but for line breaks.
    """

    kind: str
    row: int
    start_ms: int
    span_ms: int
    text: str
    hover: str


def work_bars(words: WorkWords, rows: Rows) -> tuple[tuple[Bar, ...], tuple[Bar, ...]]:
    """Bars of all work in bays and yard, and the same once for each person on it."""
    in_bays = [(work, bar) for work in words.schedule.work for bar in _bars(words, work, rows.row_of_work[work.work_id])]
    by_person = [
        replace(bar, row=rows.row_of_person[person.person_id], text=f"{bar.text} {chart_text(work.unit_id, 16)}")
        for work, bar in in_bays
        for person in work.people
        if person.person_id in rows.row_of_person
    ]
    return tuple(bar for _, bar in in_bays), tuple(by_person)


def stay_bars(words: WorkWords, rows: Rows) -> tuple[Bar, ...]:
    """Bars of units standing in bays, waiting and curing included."""
    return tuple(_stay_bar(words, stay, rows.row_of_place[stay.bay_id, stay.place]) for stay in words.schedule.stays)


def work_lines(words: WorkWords, work: Work, span: Span) -> Iterator[str]:
    """Lines that tell all about one stretch of work."""
    yield f"{words.letter(work)} · {words.step(work)}{' (done)' if work.done else ''}"
    yield words.unit(work.unit_id)
    yield words.place(work)
    yield f"{words.time.text(span.start)} to {words.time.clock(span.end)} ({duration_text(_minutes(span))})"
    yield ", ".join(words.people(work))
    yield ", ".join(words.how_much(work))
    yield work.reason
    yield "Rests on typical-year weather" if work.typical_weather else ""


def _bars(words: WorkWords, work: Work, row: int) -> Iterator[Bar]:
    for span in work.spans:
        start, length = words.time.axis_span_ms(span.start, span.end)
        yield Bar(work.step.value, row, start, length, words.letter(work), hover_lines(work_lines(words, work, span)))


def _stay_bar(words: WorkWords, stay: Stay, row: int) -> Bar:
    start, length = words.time.axis_span_ms(stay.start, stay.end)
    times = f"{words.time.text(stay.start)} to {words.time.text(stay.end)}"
    lines = ("In the bay", words.unit(stay.unit_id), words.bay_place(stay.bay_id, stay.place), times)
    return Bar("stay", row, start, length, chart_text(stay.unit_id, 20), hover_lines(lines))


def _minutes(span: Span) -> float:
    return (span.end - span.start).total_seconds() / 60
