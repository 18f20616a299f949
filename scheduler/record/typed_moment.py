"""A moment as a foreman types it: 08:10, yesterday 16:30, tue 07:00, 2026-05-04T07:30, with an offset where one is needed."""

import re
from datetime import date, datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from scheduler.shop.calendar import WEEKDAYS
from scheduler.shop.day_words import day_and_year_text
from scheduler.shop.moments import at_site, is_skipped
from scheduler.shop.time_fields import read_moment

_TYPED: Final = re.compile(
    r"^(?:(?P<day>[a-z]+|\d{4}-\d{2}-\d{2})(?:[ t]+|$))?(?:(?P<clock>\d{1,2}:\d{2})(?::[0-5]\d(?:\.\d+)?)?)?"
    r"(?P<offset>z|[+-]\d{2}:?\d{2})?$",
    re.ASCII,
)
_CURE: Final = "write 08:10, yesterday 16:30, tue 07:00 or 2026-05-04T07:30"
_NEAR: Final = {"yesterday": -1, "today": 0, "tomorrow": 1}


def typed_moment(text: str, now: datetime, tz: ZoneInfo, *, ahead: bool = False) -> datetime:
    """Read a moment; what is not said is taken from ``now``.

    Parameters
    ----------
    text : str
        A time of day alone is today; a weekday is its last one, or the coming one if ``ahead``. A day alone is its midnight.
        Seconds are left out.
    now : datetime
        Aware.
    tz : ZoneInfo
        Zone of the site.

    Raises
    ------
    ValueError
        As ``problem; cure``: for a text that is no moment, for one that the clock skips, and for one that it shows twice
        and that has no offset.
    """
    found = _TYPED.match(text.strip().lower())
    if found is None or not (found["day"] or found["clock"]):
        msg = f"not a time; {_CURE}"
        raise ValueError(msg)
    day = _day(found["day"], now.astimezone(tz).date(), ahead=ahead)
    clock = (found["clock"] or "00:00").rjust(5, "0")
    wall = f"{day.isoformat()}T{clock}"
    if found["offset"]:
        return read_moment(wall + found["offset"].upper(), tz)
    return _once(read_moment(wall, tz), datetime.fromisoformat(wall), tz)


def _day(word: str | None, today: date, *, ahead: bool) -> date:
    if word is None:
        return today
    if word in _NEAR:
        return today + timedelta(days=_NEAR[word])
    if word[:3] in WEEKDAYS and word.isalpha():
        back = (today.weekday() - WEEKDAYS.index(word[:3])) % 7
        return today + timedelta(days=(7 - back) % 7) if ahead else today - timedelta(days=back)
    try:
        return date.fromisoformat(word)
    except ValueError as error:
        msg = f"'{word}' is no day; {_CURE}"
        raise ValueError(msg) from error


def _once(moment: datetime, wall: datetime, tz: ZoneInfo) -> datetime:
    """Refuse a wall time that the clock shows twice."""
    first, second = (wall.replace(tzinfo=tz, fold=fold) for fold in (0, 1))
    if first.utcoffset() != second.utcoffset() and not is_skipped(wall, tz):
        times = " or ".join(at_site(m, tz).isoformat(timespec="minutes") for m in (first, second))
        msg = f"the clock shows {wall:%H:%M} twice on {day_and_year_text(wall)}; say which with its offset: {times}"
        raise ValueError(msg)
    return moment
