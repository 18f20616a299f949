"""A feed as an iCalendar file (RFC 5545) that follows on from the one that people already have.

A calendar program takes a changed entry only if its SEQUENCE is higher. So the file of the last run is read: entries that
move or fall away count one on, those that stay keep their number and their stamp to the byte.
"""

from collections.abc import Iterable, Iterator, Mapping, Set
from datetime import UTC, datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from icalendar import Calendar, Event

from scheduler.documents.feed.entries import Entry, Feed, plain
from scheduler.documents.feed.zone_rules import zone_rules

PRODUCT: Final = "-//coatrun//calendar feed 1//EN"
KEPT_D: Final = 60
"""Days for which an entry that fell away or went by is still told of."""
_MOVED: Final = ("DTSTART", "DTEND", "STATUS")
_SAME: Final = (*_MOVED, "SUMMARY", "LOCATION", "DESCRIPTION")


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
    known = _known(earlier)
    events = [_event(entry, tz, made_at, known.get(entry.uid)) for entry in feed.entries]
    events += _fallen_away(known, {entry.uid for entry in feed.entries}, made_at, now)
    calendar = Calendar()
    for name, value in (("PRODID", PRODUCT), ("VERSION", "2.0"), ("CALSCALE", "GREGORIAN"), ("METHOD", "PUBLISH")):
        calendar.add(name, value)
    for name in ("NAME", "X-WR-CALNAME"):
        calendar.add(name, plain(feed.title))
    calendar.add("REFRESH-INTERVAL", timedelta(hours=1), parameters={"VALUE": "DURATION"})
    if events:
        years = [_instant(event, name).year for event in events for name in ("DTSTART", "DTEND")]
        calendar.add_component(zone_rules(tz, min(years), max(years)))
    for event in events:
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _known(earlier: bytes | None) -> dict[str, Event]:
    """Entries of the last run by their UID."""
    if earlier is None:
        return {}
    events = Calendar.from_ical(earlier).walk("VEVENT")
    return {str(event["UID"]): event for event in events if isinstance(event, Event) and _is_whole(event)}


def _is_whole(event: Event) -> bool:
    return all(name in event for name in ("UID", "DTSTAMP", *_MOVED))


def _event(entry: Entry, tz: ZoneInfo, made_at: datetime, known: Event | None) -> Event:
    fresh = Event()
    fresh.add("UID", entry.uid)
    for name, moment in _moments(entry, tz):
        fresh.add(name, moment)
    fresh.add("SUMMARY", plain(entry.title))
    if entry.place:
        fresh.add("LOCATION", plain(entry.place))
    fresh.add("DESCRIPTION", plain(entry.text))
    fresh.add("STATUS", "TENTATIVE" if entry.tentative else "CONFIRMED")
    fresh.add("TRANSP", "OPAQUE")
    if known is not None and _text(known, _SAME) == _text(fresh, _SAME):
        return known
    return _stamped(fresh, made_at, known, moved=known is not None and _text(known, _MOVED) != _text(fresh, _MOVED))


def _moments(entry: Entry, tz: ZoneInfo) -> Iterator[tuple[str, datetime]]:
    """On the site's clock; in UTC if either lies in the hour that the autumn clock repeats.

    Wall time in that hour means its first round (RFC 5545, 3.3.5), so that the second can only be said in UTC.
    """
    local = {"DTSTART": entry.starts.astimezone(tz), "DTEND": entry.ends.astimezone(tz)}
    second = any(m.fold and m.utcoffset() != m.replace(fold=0).utcoffset() for m in local.values())
    yield from ((name, m.astimezone(UTC) if second else m) for name, m in local.items())


def _stamped(event: Event, made_at: datetime, known: Event | None, *, moved: bool) -> Event:
    sequence = int(str(known.get("SEQUENCE", 0))) if known is not None else 0
    event.add("SEQUENCE", sequence + moved)
    for name in ("DTSTAMP", "LAST-MODIFIED"):
        event.add(name, made_at.astimezone(UTC))
    return event


def _fallen_away(known: Mapping[str, Event], there: Set[str], made_at: datetime, now: datetime) -> Iterator[Event]:
    """What is not planned any more: taken back if it lay ahead, left as it was if it has happened, forgotten after a while."""
    for uid, event in known.items():
        ended = _instant(event, "DTEND")
        if uid in there or ended < now - timedelta(days=KEPT_D):
            continue
        if ended <= now or str(event["STATUS"]) == "CANCELLED":
            yield event
            continue
        gone = event.copy()
        for name in ("STATUS", "SEQUENCE", "DTSTAMP", "LAST-MODIFIED"):
            gone.pop(name, None)
        gone.add("STATUS", "CANCELLED")
        yield _stamped(gone, made_at, event, moved=True)


def _text(event: Event, names: Iterable[str]) -> tuple[str, ...]:
    """Properties as instants and plain words: an entry is the same however its lines are folded."""
    return tuple(_instant(event, n).isoformat() if n in {"DTSTART", "DTEND"} else str(event.get(n, "")) for n in names)


def _instant(event: Event, name: str) -> datetime:
    moment = event.decoded(name)
    if not isinstance(moment, datetime):
        msg = f"{name} of an entry is no moment"
        raise TypeError(msg)
    return moment.astimezone(UTC)
