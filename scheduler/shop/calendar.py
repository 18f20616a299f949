"""Working time: the weekly pattern of shifts and what is shut when."""

from enum import StrEnum
from typing import Annotated, Final

from pydantic import AfterValidator, Field

from scheduler.shop.fields import Flag, Id, IdOrNone, Name, Row, Words
from scheduler.shop.time_fields import Clock, Moment

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def _weekdays(words: tuple[str, ...]) -> tuple[str, ...]:
    unknown = [word for word in words if word not in WEEKDAYS]
    if unknown or not words:
        msg = f"{' '.join(unknown) or 'nothing'}: no weekday; write weekdays as {' '.join(WEEKDAYS)}"
        raise ValueError(msg)
    return words


class Shift(Row):
    """One stretch of a weekly pattern; a shift with two stretches (overtime, Saturdays) has two rows."""

    shift_id: Id
    weekdays: Annotated[Words, AfterValidator(_weekdays)]
    starts: Clock
    ends: Clock = Field(description="local wall time; before or at the start means the next day")
    break_starts: Clock | None = None
    break_ends: Clock | None = None
    overtime: Flag = False


class Shut(StrEnum):
    """What a closure shuts."""

    SITE = "site"
    BAY = "bay"
    PERSON = "person"
    EQUIPMENT = "equipment"


class Closure(Row):
    """A holiday, an absence, a repair.

    A bay is empty while it is shut, but one that is shut when the plan begins: what stands in it then stays, and nothing is done
    there until it opens.
    """

    what: Shut
    which: IdOrNone = Field("", description="id of the bay, person or equipment; empty for the site")
    closed_from: Moment
    closed_until: Moment
    reason: Name
