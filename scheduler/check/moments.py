"""Instants in UTC, so that comparing and subtracting is right across a change of the clocks."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

# Leap years, so that any day of the year exists in them.
_FIRST_YEAR = 1904
_LAST_YEAR = 2196


class Stretch(NamedTuple):
    """A stretch of time in UTC."""

    start: datetime
    end: datetime

    @property
    def minutes(self) -> float:
        """Its length, min."""
        return minutes(self.start, self.end)


def instant(moment: datetime, tz: ZoneInfo) -> datetime:
    """Return a moment in UTC; a naive one is taken as the site's wall time.

    A year that no plan has is brought to the nearest of ours, far off any horizon still, so that arithmetic never overflows.
    """
    year = min(max(moment.year, _FIRST_YEAR), _LAST_YEAR)
    near = moment if year == moment.year else moment.replace(year=year)
    aware = near.replace(tzinfo=tz) if near.tzinfo is None else near
    return aware.astimezone(UTC)


def minutes(start: datetime, end: datetime) -> float:
    """Minutes from one instant to another, negative if the second is the earlier."""
    return (end - start).total_seconds() / 60.0


def hours(start: datetime, end: datetime) -> float:
    """Hours from one instant to another, negative if the second is the earlier."""
    return (end - start).total_seconds() / 3600.0


def shared_min(span: Stretch, stretches: Sequence[Stretch]) -> float:
    """Minutes of a span that lie in stretches, which are sorted and free of overlap."""
    shared, place = 0.0, max(bisect_right(stretches, (span.start, span.start)) - 1, 0)
    while place < len(stretches) and stretches[place].start < span.end:
        shared += max(0.0, minutes(max(span.start, stretches[place].start), min(span.end, stretches[place].end)))
        place += 1
    return shared


def minutes_by_day(stretch: Stretch, tz: ZoneInfo) -> Iterator[tuple[date, float]]:
    """Yield each local calendar day that a stretch touches with the minutes of the stretch in it."""
    start = stretch.start
    while start < stretch.end:
        day = start.astimezone(tz).date()
        midnight = instant(datetime.combine(day + timedelta(days=1), datetime.min.time()), tz)
        end = min(stretch.end, midnight)
        yield day, minutes(start, end)
        start = end
