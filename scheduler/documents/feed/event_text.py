"""An entry as lines of an iCalendar file, and the entries of a file that is there as such lines.

The library sets values and reads whole calendars, here and in the tests; folding thousands of lines letter by letter is where
its time goes (measured: 1.2 ms an entry against 0.05 ms), so lines are folded here, and a file of the last run is taken apart
at its entries instead of being read value by value.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final
from zoneinfo import ZoneInfo

from icalendar import vText
from icalendar.prop import vDDDTypes

from scheduler.documents.feed.entries import Entry, plain

FOLD: Final = 75
"""Octets of a line without its end (RFC 5545, 3.1)."""
_EVENT: Final = re.compile(rb"BEGIN:VEVENT\r\n.*?END:VEVENT\r\n", re.DOTALL)
_MOVED: Final = ("DTSTART", "DTEND", "STATUS")
_STAMPS: Final = ("SEQUENCE", "DTSTAMP", "LAST-MODIFIED")


@dataclass(frozen=True, slots=True)
class EventText:
    """An entry of a file.

    Attributes
    ----------
    whole : bytes
        As it stands in the file.
    lines : mapping of str to bytes
        Its lines, unfolded, by the name of their property.
    """

    whole: bytes
    lines: Mapping[str, bytes]

    @property
    def uid(self) -> str:
        """What tells it apart."""
        return self._value("UID")

    @property
    def sequence(self) -> int:
        """How often it has moved."""
        return int(self._value("SEQUENCE") or 0)

    @property
    def status(self) -> str:
        """CONFIRMED, TENTATIVE or CANCELLED."""
        return self._value("STATUS")

    @property
    def ends(self) -> datetime:
        """Instant of its end."""
        head, _, value = self.lines["DTEND"].decode().partition(":")
        zone = head.partition("TZID=")[2]
        moment = vDDDTypes.from_ical(value, zone or None)  # type: ignore[no-untyped-call]
        if not isinstance(moment, datetime):
            msg = "the end of an entry is no moment"
            raise TypeError(msg)
        return moment.astimezone(UTC)

    def same(self, lines: Mapping[str, bytes]) -> bool:
        """Whether it says what these lines say."""
        return {k: v for k, v in self.lines.items() if k not in _STAMPS} == {k: v for k, v in lines.items() if k not in _STAMPS}

    def moved(self, lines: Mapping[str, bytes]) -> bool:
        """Whether these lines have another start, end or status."""
        return any(self.lines.get(name) != lines[name] for name in _MOVED)

    def _value(self, name: str) -> str:
        return self.lines.get(name, b"").partition(b":")[2].decode()


def events_in(calendar: bytes) -> Iterator[EventText]:
    """Yield the entries of a file.

    Raises
    ------
    ValueError
        If it is no whole calendar.
    """
    if not (calendar.startswith(b"BEGIN:VCALENDAR\r\n") and calendar.endswith(b"END:VCALENDAR\r\n")):
        msg = "it is no whole calendar"
        raise ValueError(msg)
    for found in _EVENT.finditer(calendar):
        rows = found[0].replace(b"\r\n ", b"").split(b"\r\n")[1:-2]
        yield EventText(found[0], {re.split(rb"[:;]", row, maxsplit=1)[0].decode(): row for row in rows})


def content_of(entry: Entry, tz: ZoneInfo) -> dict[str, bytes]:
    """Lines of an entry, without its stamps."""
    lines = {"UID": b"UID:" + entry.uid.encode()}
    lines |= {name: _moment(name, moment) for name, moment in _moments(entry, tz)}
    for name, text in (("SUMMARY", entry.title), ("LOCATION", entry.place), ("DESCRIPTION", entry.text)):
        if text:
            lines[name] = name.encode() + b":" + vText(plain(text)).to_ical()
    lines["STATUS"] = b"STATUS:" + (b"TENTATIVE" if entry.tentative else b"CONFIRMED")
    lines["TRANSP"] = b"TRANSP:OPAQUE"
    return lines


def stamped(lines: Mapping[str, bytes], sequence: int, made_at: datetime) -> bytes:
    """The entry as it stands in a file."""
    stamp = f"{made_at.astimezone(UTC):%Y%m%dT%H%M%SZ}".encode()
    stamps = (b"SEQUENCE:%d" % sequence, b"DTSTAMP:" + stamp, b"LAST-MODIFIED:" + stamp)
    kept = (line for name, line in lines.items() if name not in _STAMPS)
    return b"".join(fold(line) for line in (b"BEGIN:VEVENT", *kept, *stamps, b"END:VEVENT"))


def fold(line: bytes) -> bytes:
    """Line with its end, cut into pieces of at most 75 octets; no letter is cut."""
    pieces: list[bytes] = []
    room = FOLD
    while len(line) > room:
        cut = room
        while line[cut] & 0xC0 == 0x80:  # inside a letter of several octets
            cut -= 1
        pieces.append(line[:cut])
        line, room = line[cut:], FOLD - 1
    return b"\r\n ".join([*pieces, line]) + b"\r\n"


def _moments(entry: Entry, tz: ZoneInfo) -> Iterable[tuple[str, datetime]]:
    """On the site's clock; in UTC if either lies in the hour that the autumn clock repeats.

    Wall time in that hour means its first round (RFC 5545, 3.3.5), so that the second can only be said in UTC.
    """
    local = {"DTSTART": entry.starts.astimezone(tz), "DTEND": entry.ends.astimezone(tz)}
    second = any(m.fold and m.utcoffset() != m.replace(fold=0).utcoffset() for m in local.values())
    return [(name, m.astimezone(UTC) if second else m) for name, m in local.items()]


def _moment(name: str, moment: datetime) -> bytes:
    if moment.tzinfo is UTC:
        return f"{name}:{moment:%Y%m%dT%H%M%SZ}".encode()
    return f"{name};TZID={moment.tzinfo}:{moment:%Y%m%dT%H%M%S}".encode()
