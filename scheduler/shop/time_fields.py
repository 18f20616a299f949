"""Field types for dates and times as people type them: ISO 8601, never a bare number or a spreadsheet's local form.

Refusals are written ``problem; cure``: the border of the folder shows the two apart.
"""

import re
from datetime import date, datetime, time
from typing import Annotated, Final, TypeVar
from zoneinfo import ZoneInfo

from pydantic import AfterValidator, BeforeValidator, ValidationInfo

from scheduler.shop.moments import at_site

FIRST_YEAR: Final = 1990
LAST_YEAR: Final = 2100
_MOMENT: Final = re.compile(r"^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?(Z|[+-]\d{2}:?\d{2})?$", re.ASCII)
_DAY: Final = re.compile(r"^\d{4}-\d{2}-\d{2}$", re.ASCII)
_CLOCK: Final = re.compile(r"^(\d{1,2}):(\d{2})(?::(\d{2}))?$", re.ASCII)
AnyDate = TypeVar("AnyDate", date, datetime)
_MOMENT_CURE: Final = "write it as 2026-05-04T07:30, with an offset (+02:00 or Z) if it is not the site's own time"


def _moment(value: object) -> datetime:
    if isinstance(value, datetime):
        return value
    text = str(value).strip()
    if not _MOMENT.match(text):
        msg = f"not a date with a time; {_MOMENT_CURE}"
        raise ValueError(msg)
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        msg = f"there is no such date and time ({error}); {_MOMENT_CURE}"
        raise ValueError(msg) from error


def _day(value: object) -> date:
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    text = str(value).strip()
    if not _DAY.match(text):
        msg = "not a date; write it as 2026-05-04"
        raise ValueError(msg)
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        msg = f"there is no such date ({error}); write it as 2026-05-04"
        raise ValueError(msg) from error


def _clock(value: object) -> time:
    if isinstance(value, time):
        return value
    found = _CLOCK.match(str(value).strip())
    hour, minute, second = (int(part or 0) for part in found.groups()) if found else (-1, 0, 0)
    midnight = (hour, minute, second) == (24, 0, 0)
    try:
        return time(0 if midnight else hour, minute, second)
    except ValueError as error:
        msg = "not a time of day; write it as 07:30"
        raise ValueError(msg) from error


def _in_our_time(value: AnyDate) -> AnyDate:
    if not FIRST_YEAR <= value.year <= LAST_YEAR:
        msg = f"the year {value.year} is outside {FIRST_YEAR} to {LAST_YEAR}; correct the year"
        raise ValueError(msg)
    return value


def _at_site(value: datetime, info: ValidationInfo) -> datetime:
    """Put a moment on the site's clock when the reader says which zone that is."""
    zone = (info.context or {}).get("zone")
    _in_our_time(value)
    return at_site(value, zone) if isinstance(zone, ZoneInfo) else value


def read_moment(text: str, zone: ZoneInfo) -> datetime:
    """Read a moment as people type it; without an offset it stands in the zone.

    Raises
    ------
    ValueError
        As ``problem; cure``.
    """
    return at_site(_in_our_time(_moment(text)), zone)


Moment = Annotated[datetime, BeforeValidator(_moment), AfterValidator(_at_site)]
Day = Annotated[date, BeforeValidator(_day), AfterValidator(_in_our_time)]
Clock = Annotated[time, BeforeValidator(_clock)]
