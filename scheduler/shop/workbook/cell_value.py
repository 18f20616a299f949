"""A cell of a workbook as the text that a person would have typed into a table."""

import re
from datetime import datetime, time, timedelta
from typing import Final

LONGEST: Final = 32_767
"""Most letters that a cell can hold (ECMA-376)."""
_ESCAPED: Final = re.compile("_x(00[01][0-9A-Fa-f])_")
_HAS_CLOCK: Final = re.compile("[hH]")


def value_text(value: object, number_format: str | None) -> str:
    """Return the text of a value.

    Parameters
    ----------
    value : object
        As the library reads it: text, number, truth value, date, clock time, length of time, or None.
    number_format : str or None
        How the sheet shows it: a date at midnight shown without a clock is a date alone, 0.15 may be shown as 15 %.
    """
    if isinstance(value, datetime):
        return _moment(value, number_format or "")
    if isinstance(value, timedelta):
        return _length(value)
    if isinstance(value, int | float) and "%" in (number_format or ""):
        return f"{value * 100:.12g} %"  # the sheet shows 15 % of what holds 0.15; columns say their unit in their name
    return _plain(value)


def _plain(value: object) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float():
            return repr(value).removesuffix(".0")
        case time():
            return value.isoformat("minutes" if not (value.second or value.microsecond) else "auto")
    return plain_text(str(value))


def plain_text(text: str) -> str:
    """Undo the escapes of control characters, ``_x000A_`` for a line end; the library that reads the file leaves them."""
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), text) if "_x" in text else text


def _moment(value: datetime, number_format: str) -> str:
    midnight = value.time() == time(0)
    if midnight and not _HAS_CLOCK.search(number_format):
        return value.date().isoformat()
    return value.isoformat(timespec="minutes" if not (value.second or value.microsecond) else "auto")


def _length(value: timedelta) -> str:
    """Hours and minutes, as a clock time in a cell that may go past midnight: ``24:00``."""
    minutes, seconds = divmod(round(value.total_seconds()), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02d}:{minutes:02d}" + (f":{seconds:02d}" if seconds else "")
