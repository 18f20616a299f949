"""Instants in UTC, so that comparing and subtracting is right across a change of the clocks."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo


class Stretch(NamedTuple):
    """A stretch of time in UTC."""

    start: datetime
    end: datetime

    @property
    def minutes(self) -> float:
        """Its length, min."""
        return minutes(self.start, self.end)


def instant(moment: datetime, tz: ZoneInfo) -> datetime:
    """Return a moment in UTC; a naive one is taken as the site's wall time."""
    aware = moment.replace(tzinfo=tz) if moment.tzinfo is None else moment
    return aware.astimezone(UTC)


def minutes(start: datetime, end: datetime) -> float:
    """Minutes from one instant to another, negative if the second is the earlier."""
    return (end - start).total_seconds() / 60.0


def hours(start: datetime, end: datetime) -> float:
    """Hours from one instant to another, negative if the second is the earlier."""
    return (end - start).total_seconds() / 3600.0


def minutes_by_day(stretch: Stretch, tz: ZoneInfo) -> Iterator[tuple[date, float]]:
    """Yield each local calendar day that a stretch touches with the minutes of the stretch in it."""
    start = stretch.start
    while start < stretch.end:
        day = start.astimezone(tz).date()
        midnight = instant(datetime.combine(day + timedelta(days=1), datetime.min.time()), tz)
        end = min(stretch.end, midnight)
        yield day, minutes(start, end)
        start = end
