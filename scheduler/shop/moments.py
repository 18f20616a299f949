"""Moments at a site: wall time typed by people becomes an instant with the offset that the site had at that instant.

The offset is kept fixed (``+02:00``, not a zone), because Python subtracts and compares two datetimes of one zone by
their wall time, which is an hour wrong across a change of the clocks. With fixed offsets plain arithmetic is exact.
"""

from datetime import UTC, date, datetime, time, timezone
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


def zone_of(name: object) -> ZoneInfo | None:
    """Return the zone of a name; None if the zone database has no such zone."""
    try:
        return ZoneInfo(str(name))
    except (ZoneInfoNotFoundError, ValueError, OSError):  # unknown, no proper name, a folder of the database
        return None


def at_site(moment: datetime, tz: ZoneInfo) -> datetime:
    """Return a moment as the site's clock showed it, with a fixed offset.

    Parameters
    ----------
    moment : datetime
        Aware, or naive for local wall time. In the hour that the autumn clock repeats, ``fold`` tells which.
    tz : ZoneInfo
        The site's zone.

    Raises
    ------
    ValueError
        If the wall time is skipped when the clock goes forward.
    """
    if moment.tzinfo is None and is_skipped(moment, tz):
        msg = f"there is no {moment:%H:%M} on {moment:%Y-%m-%d} in {tz.key}, the clock goes forward over it; write a time that is"
        raise ValueError(msg)
    aware = moment.replace(tzinfo=tz) if moment.tzinfo is None else moment
    return _fixed(aware.astimezone(UTC), tz)


def wall(day: date, clock: time, tz: ZoneInfo) -> datetime:
    """Return the instant of a clock time on a day, with a fixed offset.

    A time that is skipped counts with the offset before the gap, a repeated one is the first (RFC 5545, 3.3.5).
    """
    return _fixed(datetime.combine(day, clock, tz).astimezone(UTC), tz)


def is_skipped(naive: datetime, tz: ZoneInfo) -> bool:
    """Tell whether a naive wall time falls in the gap of a spring day."""
    there_and_back = naive.replace(tzinfo=tz).astimezone(UTC).astimezone(tz)
    return there_and_back.replace(tzinfo=None, fold=0) != naive.replace(fold=0)


def _fixed(instant: datetime, tz: ZoneInfo) -> datetime:
    local = instant.astimezone(tz)
    offset = local.utcoffset()
    assert offset is not None  # a ZoneInfo always has one
    return local.replace(tzinfo=timezone(offset), fold=0)
