"""Days and moments in words, as everything that people read has them."""

from datetime import date, datetime
from typing import Final

DAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_text(day: date) -> str:
    """Short day, ``Mon 1 Sep``; the same whatever language the machine is set to."""
    return f"{DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"


def day_and_year_text(day: date) -> str:
    """Day of a date that may lie in another year, ``Mon 1 Sep 2025``."""
    return f"{day_text(day)} {day.year}"


def moment_text(local: datetime) -> str:
    """Day and clock time of a moment on the clock of the site, ``Mon 1 Sep 07:15``."""
    return f"{day_text(local)} {local:%H:%M}"
