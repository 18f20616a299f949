"""Values as they stand in the cells of a table and in the settings, so that they read back to the same value."""

import json
from datetime import datetime, time
from enum import Enum
from zoneinfo import ZoneInfo

from scheduler.shop.moments import is_skipped


def cell_text(value: object, tz: ZoneInfo, *, with_offset: bool = False) -> str:
    """Return the text of a CSV cell; moments on the site's clock, with their offset if wanted."""
    if isinstance(value, datetime):
        return _moment(value, tz, with_offset, "minutes" if not (value.second or value.microsecond) else "auto")
    return " ".join(str(word) for word in value) if isinstance(value, tuple) else _plain(value)


def _plain(value: object) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case Enum():
            return str(value.value)
        case float():
            return _number(value)
        case time():
            return value.isoformat("minutes" if value.second == 0 else "seconds")
    return str(value)


def toml_text(value: object, tz: ZoneInfo) -> str:
    """Return the text of a TOML value."""
    if isinstance(value, str):
        return json.dumps(str(value), ensure_ascii=False)
    if isinstance(value, datetime):
        return _moment(value, tz, with_offset=False, precision="auto")
    return _number(value) if isinstance(value, float) else str(value)


def _number(value: float) -> str:
    return repr(value).removesuffix(".0")


def _moment(value: datetime, tz: ZoneInfo, with_offset: bool, precision: str) -> str:
    """Return the site's wall time; with its offset where that is wanted or the wall time alone could be misread."""
    local = value.astimezone(tz)
    naive = local.replace(tzinfo=None, fold=0)
    clear = not is_skipped(naive, tz) and naive.replace(tzinfo=tz).timestamp() == value.timestamp()
    return (local if with_offset or not clear else naive).isoformat(timespec=precision)
