"""The rules of a zone for the years of a feed, as a VTIMEZONE (RFC 5545, 3.6.5).

Each change of the clocks in these years is a part of its own, whose start is the wall time that the clock shows when it is
changed: that of the offset before. No rule is guessed for the years after.
"""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

_HOUR = timedelta(hours=1)
_MINUTE = timedelta(minutes=1)


def zone_rules(tz: ZoneInfo, first_year: int, last_year: int) -> Timezone:
    """Offsets of a zone from the start of the first year to the end of the last.

    Parameters
    ----------
    tz : ZoneInfo
    first_year, last_year : int
        UTC years, both included.
    """
    start, end = datetime(first_year, 1, 1, tzinfo=UTC), datetime(last_year + 1, 1, 1, tzinfo=UTC)
    zone = Timezone()
    zone.add("TZID", tz.key)
    zone.add_component(_part(tz, start, _offset(start, tz)))
    for change in _changes(tz, start, end):
        zone.add_component(_part(tz, change, _offset(change - _MINUTE, tz)))
    return zone


def _changes(tz: ZoneInfo, start: datetime, end: datetime) -> list[datetime]:
    """Instants at which the offset changes, to the minute."""
    found = []
    hour = start
    while hour < end:
        if _offset(hour, tz) != _offset(hour + _HOUR, tz):
            before = _offset(hour, tz)
            minutes = (hour + i * _MINUTE for i in range(1, 61))
            found.append(next(m for m in minutes if _offset(m, tz) != before))
        hour += _HOUR
    return found


def _part(tz: ZoneInfo, instant: datetime, before: timedelta) -> TimezoneStandard | TimezoneDaylight:
    local = instant.astimezone(tz)
    part = TimezoneDaylight() if local.dst() else TimezoneStandard()
    part.add("DTSTART", (instant + before).replace(tzinfo=None))
    part.add("TZOFFSETFROM", before)
    part.add("TZOFFSETTO", _offset(instant, tz))
    part.add("TZNAME", local.tzname() or tz.key)
    return part


def _offset(instant: datetime, tz: ZoneInfo) -> timedelta:
    return instant.astimezone(tz).utcoffset() or timedelta()
