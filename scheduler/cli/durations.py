"""A length of time or a moment as a person types it."""

import re
from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

import click

_LENGTH: Final = re.compile(r"(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>[hd])", re.IGNORECASE)


def length(_ctx: click.Context, _param: click.Parameter, text: str | None) -> timedelta | None:
    """Read ``36h`` or ``2d``."""
    if text is None:
        return None
    found = _LENGTH.fullmatch(text.strip())
    if found is None:
        msg = f"'{text}' is no length of time; write hours as 36h or days as 2d"
        raise click.BadParameter(msg)
    number = float(found["number"])
    return timedelta(hours=number) if found["unit"].lower() == "h" else timedelta(days=number)


def moment(_ctx: click.Context, _param: click.Parameter, text: str | None) -> datetime | None:
    """Read a date, or a date and a clock time, with or without an offset."""
    if text is None:
        return None
    try:
        return datetime.fromisoformat(text.strip())
    except ValueError as error:
        msg = f"'{text}' is no moment; write it as 2013-10-12 or 2013-10-12T07:00"
        raise click.BadParameter(msg) from error


def at_clock(found: datetime, tz: ZoneInfo) -> datetime:
    """Put a moment without an offset on the site's clock."""
    return found if found.tzinfo is not None else found.replace(tzinfo=tz)
