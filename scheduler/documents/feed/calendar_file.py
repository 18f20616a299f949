"""A feed as an iCalendar file (RFC 5545) that follows on from the one that people already have.

A calendar program takes a changed entry only if its SEQUENCE is higher. So the file of the last run is read: entries that
move or fall away count one on, those that stay keep their number and their stamp to the byte.
"""

from collections.abc import Iterator, Mapping, Set
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import Final
from zoneinfo import ZoneInfo

from icalendar import Calendar

from scheduler.documents.feed.entries import Entry, Feed, plain
from scheduler.documents.feed.event_text import EventText, content_of, events_in, stamped
from scheduler.documents.feed.zone_rules import zone_rules

PRODUCT: Final = "-//coatrun//calendar feed 1//EN"
KEPT_D: Final = 60
"""Days for which an entry that fell away or went by is still told of."""
_END: Final = b"END:VCALENDAR\r\n"


def calendar_bytes(feed: Feed, tz: ZoneInfo, made_at: datetime, now: datetime, earlier: bytes | None = None) -> bytes:
    """Write a feed.

    Parameters
    ----------
    feed : Feed
    tz : ZoneInfo
        The site's zone.
    made_at : datetime
        When the schedule was made, the stamp of what is new or has changed.
    now : datetime
        Start of the schedule: what ended before it and is not planned any more has happened, the rest has fallen away.
    earlier : bytes or None
        The file of the last run.

    Raises
    ------
    ValueError
        If ``earlier`` is no calendar.
    """
    known = {} if earlier is None else {event.uid: event for event in events_in(earlier)}
    kept = list(_kept(known, {entry.uid for entry in feed.entries}, now))
    events = [_event(entry, tz, made_at, known.get(entry.uid)) for entry in feed.entries]
    events += [event.whole if event.status == "CANCELLED" or event.ends <= now else _taken_back(event, made_at) for event in kept]
    moments = [m.astimezone(UTC) for entry in feed.entries for m in (entry.starts, entry.ends)] + [event.ends for event in kept]
    return _head(feed.title) + _rules(tz, moments) + b"".join(events) + _END


def _head(title: str) -> bytes:
    calendar = Calendar()
    for name, value in (("PRODID", PRODUCT), ("VERSION", "2.0"), ("CALSCALE", "GREGORIAN"), ("METHOD", "PUBLISH")):
        calendar.add(name, value)
    for name in ("NAME", "X-WR-CALNAME"):
        calendar.add(name, plain(title))
    calendar.add("REFRESH-INTERVAL", timedelta(hours=1), parameters={"VALUE": "DURATION"})
    return bytes(calendar.to_ical()).removesuffix(_END)


def _rules(tz: ZoneInfo, moments: list[datetime]) -> bytes:
    return _rules_of(tz, min(moments).year, max(moments).year) if moments else b""


@lru_cache(maxsize=64)
def _rules_of(tz: ZoneInfo, first_year: int, last_year: int) -> bytes:
    """Rules of the zone as they stand in a file; the feeds of a run mostly share them."""
    return bytes(zone_rules(tz, first_year, last_year).to_ical())


def _event(entry: Entry, tz: ZoneInfo, made_at: datetime, known: EventText | None) -> bytes:
    lines = content_of(entry, tz)
    if known is None:
        return stamped(lines, 0, made_at)
    return known.whole if known.same(lines) else stamped(lines, known.sequence + known.moved(lines), made_at)


def _kept(known: Mapping[str, EventText], there: Set[str], now: datetime) -> Iterator[EventText]:
    """What is not planned any more and is still told of."""
    for uid, event in known.items():
        if uid not in there and event.ends >= now - timedelta(days=KEPT_D):
            yield event


def _taken_back(event: EventText, made_at: datetime) -> bytes:
    return stamped({**event.lines, "STATUS": b"STATUS:CANCELLED"}, event.sequence + 1, made_at)
