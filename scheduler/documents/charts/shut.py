"""Times in which nothing goes on: nobody is there, a bay or a person is away, or the weather is closed for spraying."""

from collections.abc import Iterator
from datetime import datetime

from scheduler.documents.charts.bars import Bar
from scheduler.documents.charts.rows import Rows
from scheduler.documents.words.work_words import WorkWords
from scheduler.shop.calendar import Closure, Shut
from scheduler.shop.working_time import Span, merged, stretches_between, without


def nobody_there(words: WorkWords, start: datetime, end: datetime) -> tuple[Span, ...]:
    """Nights, breaks, weekends, closures and times after the horizon: no member of the crew is on shift, and nothing was done."""
    shop = words.shop
    first, last = min(start, shop.site.plan_from), shop.site.plan_until
    on_shift = ((a, b) for person in shop.crew for a, b, _ in stretches_between(shop, person, first, last))
    history = ((span.start, span.end) for work in words.schedule.work if work.done for span in work.spans)
    manned = merged([*on_shift, *history])
    return tuple(without([(start, end)], manned))


def shut_bays(words: WorkWords, rows: Rows) -> tuple[Bar, ...]:
    """Bars of bays that are shut, in each of their places."""
    places = [(bay_id, row) for (bay_id, _), row in rows.row_of_place.items()]
    return tuple(
        bar
        for closure in words.shop.closures
        if closure.what is Shut.BAY
        for bay_id, row in places
        if bay_id == closure.which
        for bar in _bar(words, closure, row, "Shut")
    )


def people_away(words: WorkWords, rows: Rows) -> tuple[Bar, ...]:
    """Bars of people who are away."""
    return tuple(
        bar
        for closure in words.shop.closures
        if closure.what is Shut.PERSON and closure.which in rows.row_of_person
        for bar in _bar(words, closure, rows.row_of_person[closure.which], "Away")
    )


def _bar(words: WorkWords, closure: Closure, row: int, word: str) -> Iterator[Bar]:
    site = words.shop.site
    start, end = max(closure.closed_from, site.plan_from), min(closure.closed_until, site.plan_until)
    if start < end:
        first, length = words.time.axis_span_ms(start, end)
        times = f"{words.time.text(start)} to {words.time.text(end)}"
        yield Bar("shut", row, first, length, word, (word, closure.reason, times))
