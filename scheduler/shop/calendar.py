"""Working time: the weekly pattern of shifts and what is shut when."""

from datetime import datetime, time
from enum import StrEnum
from typing import Annotated, Final

from pydantic import AfterValidator, Field

from scheduler.shop.fields import Flag, Id, Name, Row, Words

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def _weekdays(words: tuple[str, ...]) -> tuple[str, ...]:
    unknown = [word for word in words if word not in WEEKDAYS]
    if unknown or not words:
        msg = f"{' '.join(unknown) or 'nothing'}: write weekdays as {' '.join(WEEKDAYS)}"
        raise ValueError(msg)
    return words


class Shift(Row):
    """One stretch of a weekly pattern; a shift with two stretches (overtime, Saturdays) has two rows."""

    shift_id: Id
    weekdays: Annotated[Words, AfterValidator(_weekdays)]
    starts: time
    ends: time = Field(description="local wall time; before or at the start means the next day")
    break_starts: time | None = None
    break_ends: time | None = None
    overtime: Flag = False


class Shut(StrEnum):
    """What a closure shuts."""

    SITE = "site"
    BAY = "bay"
    PERSON = "person"
    EQUIPMENT = "equipment"


class Closure(Row):
    """A holiday, an absence, a repair."""

    what: Shut
    which: str = Field("", description="id of the bay, person or equipment; empty for the site")
    closed_from: datetime
    closed_until: datetime
    reason: Name
