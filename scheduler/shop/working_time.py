"""Working time: the stretches in which a person is there, from shift rows, breaks and closures."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from itertools import islice
from operator import itemgetter
from zoneinfo import ZoneInfo

from scheduler.shop.calendar import WEEKDAYS, Shift, Shut
from scheduler.shop.moments import wall
from scheduler.shop.resources import Person
from scheduler.shop.shop import Shop

Span = tuple[datetime, datetime]
Stretch = tuple[datetime, datetime, bool]


def working_stretches(shop: Shop, person: Person) -> tuple[Stretch, ...]:
    """Stretches in which a person is on shift, from ``plan_from`` to ``plan_until``.

    Parameters
    ----------
    shop : Shop
        Shifts, closures and the horizon.
    person : Person
        Whose ``shift_id`` may have several rows.

    Returns
    -------
    tuple of (start, end, overtime)
        Sorted, aware (fixed offsets, so ``end - start`` is time elapsed on both clock-change days too), free of overlap,
        breaks and closures. Where an overtime row overlaps a plain one, the plain one holds. Two stretches that touch are
        one continuous time of work, of which one part is overtime.
    """
    return stretches_between(shop, person, shop.site.plan_from, shop.site.plan_until)


def stretches_between(shop: Shop, person: Person, first: datetime, last: datetime) -> tuple[Stretch, ...]:
    """Stretches in which a person is on shift between two moments, as :func:`working_stretches` gives them."""
    rows = [row for row in shop.shifts if row.shift_id == person.shift_id]
    shut = [*closed_spans(shop, Shut.SITE), *closed_spans(shop, Shut.PERSON, person.person_id)]
    between, tz = (first, last), shop.site.tz
    plain = _open(between, tz, (row for row in rows if not row.overtime), shut)
    extra = _open(between, tz, (row for row in rows if row.overtime), [*shut, *plain])
    return tuple(sorted([*((a, b, False) for a, b in plain), *((a, b, True) for a, b in extra)], key=itemgetter(0)))


def closed_spans(shop: Shop, what: Shut, which: str = "") -> tuple[Span, ...]:
    """Closures of the site, or of one bay, person or piece of equipment, as (from, until) in the order of the table."""
    rows = (c for c in shop.closures if c.what is what and (what is Shut.SITE or c.which == which))
    return tuple((c.closed_from, c.closed_until) for c in rows)


def merged(spans: Iterable[Span]) -> list[Span]:
    """Spans sorted, those that overlap or touch made one, empty ones dropped."""
    out: list[Span] = []
    for start, end in sorted(spans):
        if out and start <= out[-1][1]:
            out[-1] = (out[-1][0], max(out[-1][1], end))
        elif start < end:
            out.append((start, end))
    return out


def without(spans: Iterable[Span], holes: Iterable[Span]) -> list[Span]:
    """Take the holes out of the spans; what is left is merged."""
    left: list[Span] = []
    shut = merged(holes)
    first = 0
    for start, end in merged(spans):
        while first < len(shut) and shut[first][1] <= start:  # both are sorted: what ended before is done with
            first += 1
        left += _outside(start, end, islice(shut, first, None))
    return left


def _outside(start: datetime, end: datetime, holes: Iterable[Span]) -> Iterator[Span]:
    for hole_start, hole_end in holes:
        if hole_start >= end:
            break
        if start < hole_start:
            yield start, hole_start
        start = hole_end
    if start < end:
        yield start, end


def _open(between: Span, tz: ZoneInfo, rows: Iterable[Shift], holes: Iterable[Span]) -> list[Span]:
    first, last = between
    on = (span for row in rows for span in _on_shift(row, first, last, tz))
    return without(((max(a, first), min(b, last)) for a, b in on), holes)


def _on_shift(row: Shift, first: datetime, last: datetime, tz: ZoneInfo) -> Iterator[Span]:
    """Yield the spans of one row, breaks taken out, from the night shift of the day before on."""
    day = first.astimezone(tz).date() - timedelta(days=1)
    while day <= last.astimezone(tz).date():
        if WEEKDAYS[day.weekday()] in row.weekdays:
            yield from _day(row, day, tz)
        day += timedelta(days=1)


def _day(row: Shift, day: date, tz: ZoneInfo) -> list[Span]:
    span = (wall(day, row.starts, tz), wall(_next_day(day, row.ends <= row.starts), row.ends, tz))
    if row.break_starts is None or row.break_ends is None:
        return [span]
    return without([span], [(_in_shift(row, day, row.break_starts, tz), _in_shift(row, day, row.break_ends, tz))])


def _in_shift(row: Shift, day: date, clock: time, tz: ZoneInfo) -> datetime:
    """Return the instant of a clock time of a break: one earlier than the shift's start is on the next day."""
    return wall(_next_day(day, clock < row.starts), clock, tz)


def _next_day(day: date, later: bool) -> date:
    return day + timedelta(days=1) if later else day
