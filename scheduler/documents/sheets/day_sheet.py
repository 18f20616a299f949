"""The foreman's sheet of a day: what is done when, where and by whom, what to measure first, what to warm tonight."""

from dataclasses import dataclass
from datetime import date, datetime

from scheduler.documents.cautions.cautions import Caution, cautions_for
from scheduler.documents.sheets.limits import Reading, readings
from scheduler.documents.sheets.warmer_rows import WarmerRow, warmer_row
from scheduler.documents.words.local_time import long_day_text
from scheduler.documents.words.packs_words import packs_words
from scheduler.documents.words.step_marks import STEP_MARKS
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Span, Work
from scheduler.shop.methods import FILM_STEPS


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One stretch of work on the sheet; ``part`` says where work that pauses stands, ``is_film`` asks for readings."""

    work: Work
    span: Span
    starts: str
    ends: str
    place: str
    step: str
    letter: str
    unit: str
    customer: str
    people: tuple[str, ...]
    how_much: tuple[str, ...]
    product: str
    tools: str
    packs: tuple[str, ...]
    part: str
    readings: tuple[Reading, ...]
    is_film: bool


@dataclass(frozen=True, slots=True)
class DaySheet:
    """Sheet of one local day; rows by time and bay."""

    day: date
    rows: tuple[SheetRow, ...]
    to_load: tuple[WarmerRow, ...]
    to_take: tuple[WarmerRow, ...]
    cautions: tuple[Caution, ...]
    typical_weather: bool

    @property
    def day_text(self) -> str:
        """Date in full."""
        return long_day_text(self.day)


def day_sheets(words: WorkWords) -> tuple[DaySheet, ...]:
    """Sheets of all days on which something is done or loaded."""
    return tuple(day_sheet(words, day) for day in words.by_day.days)


def day_sheet(words: WorkWords, day: date) -> DaySheet:
    """Sheet of one day.

    Parameters
    ----------
    words : WorkWords
        The schedule with its shop.
    day : date
        Local date at the site; a day without work gives an empty sheet.
    """
    spans, loads = words.by_day.spans.get(day, ()), words.by_day.loaded.get(day, ())
    here = sorted(spans, key=lambda pair: (pair[1].start, words.place(pair[0]), pair[0].work_id))
    loaded = sorted(loads, key=lambda pair: (pair[0].loaded_at, pair[1].start))
    begun = sorted(words.by_day.begun.get(day, ()), key=lambda work: work.start)
    return DaySheet(
        day=day,
        rows=tuple(_row(words, work, span) for work, span in here),
        to_load=tuple(warmer_row(words, *pair) for pair in loaded),
        to_take=tuple(warmer_row(words, load, work) for work in begun for load in work.loads),
        cautions=cautions_for(words.shop, [*(work for work, _ in here), *(work for _, work in loaded)]),
        typical_weather=any(work.typical_weather for work, _ in here),
    )


def _row(words: WorkWords, work: Work, span: Span) -> SheetRow:
    film = work.step in FILM_STEPS
    return SheetRow(
        work=work,
        span=span,
        starts=words.time.clock(span.start),
        ends=_clock_of(words, span.end, span.start),
        place=words.place(work),
        step=words.step(work),
        letter=STEP_MARKS[work.step].letter,
        unit=words.unit(work.unit_id),
        customer=words.customer(work.order_id),
        people=words.people(work),
        how_much=words.how_much(work),
        product=words.product(work.product_id) if work.product_id else "",
        tools=words.tools(work),
        packs=packs_words(work),
        part=_part(work, span),
        readings=readings(words, work),
        is_film=film,
    )


def _part(work: Work, span: Span) -> str:
    if len(work.spans) == 1:
        return ""
    return f"part {work.spans.index(span) + 1} of {len(work.spans)}"


def _clock_of(words: WorkWords, moment: datetime, beside: datetime) -> str:
    same_day = words.time.day(moment) == words.time.day(beside)
    return words.time.clock(moment) if same_day else words.time.text(moment)
