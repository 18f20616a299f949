"""Bars of the charts: which row, from when, how long, which mark, and what is said about it."""

from dataclasses import dataclass, replace

from scheduler.documents.charts.rows import Rows
from scheduler.documents.words.work_words import WorkWords
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
        On the wall-time axis of :meth:`scheduler.documents.words.local_time.LocalTime.axis_ms`.
    text : str
        On the bar.
    says : tuple of str
        Lines beside the pointer; the last one holds the times of a strip.
    unit_id : str
        Empty for what belongs to no unit.
    """

    kind: str
    row: int
    start_ms: int
    span_ms: int
    text: str
    says: tuple[str, ...]
    unit_id: str = ""


def stay_bars(words: WorkWords, rows: Rows) -> tuple[Bar, ...]:
    """Bars of units standing in bays, waiting and curing included."""
    return tuple(_stay_bar(words, stay, rows.row_of_place[stay.bay_id, stay.place]) for stay in words.schedule.stays)


def step_bars(words: WorkWords, rows: Rows) -> tuple[Bar, ...]:
    """Bars of all work in bays and yard, marked with letter and number of the step."""
    return tuple(
        _step_bar(words, work, span, rows.row_of_work[work.work_id]) for work in words.schedule.work for span in work.spans
    )


def crew_bars(words: WorkWords, rows: Rows) -> tuple[Bar, ...]:
    """Bars of all work once for each member of the crew on it, marked with the step and the unit."""
    return tuple(
        replace(bar, text=f"{bar.text} {work.unit_id}")
        for work in words.schedule.work
        for person in work.people
        if person.person_id in rows.row_of_person
        for span in work.spans
        for bar in [_step_bar(words, work, span, rows.row_of_person[person.person_id])]
    )


def _step_bar(words: WorkWords, work: Work, span: Span, row: int) -> Bar:
    return Bar(work.step.value, row, *words.time.axis_span_ms(span.start, span.end), words.letter(work), (), work.unit_id)


def _stay_bar(words: WorkWords, stay: Stay, row: int) -> Bar:
    start, length = words.time.axis_span_ms(stay.start, stay.end)
    times = f"{words.time.text(stay.start)} to {words.time.text(stay.end)}"
    lines = ("In the bay", words.unit(stay.unit_id), words.bay_place(stay.bay_id, stay.place), times)
    return Bar("stay", row, start, length, stay.unit_id, lines, stay.unit_id)
