"""Values in a saved schedule that its form allows and nothing can be done with: a file may have been changed by hand."""

import math
from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from scheduler.schedule.schedule import Schedule

FIRST_YEAR: Final = 1970
LAST_YEAR: Final = 2200


def odd_values(schedule: "Schedule") -> list[str]:
    """Say of every such value where it stands, what is wrong and the cure.

    Parameters
    ----------
    schedule : Schedule

    Returns
    -------
    list of str
        Empty if every moment has an offset and lies in our time, and every number is finite.
    """
    return list(_odd(schedule.model_dump(), ""))


def _odd(value: object, place: str) -> Iterator[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _odd(inner, f"{place}.{key}" if place else str(key))
    elif isinstance(value, list | tuple):
        for number, inner in enumerate(value):
            yield from _odd(inner, f"{place}.{number}")
    else:
        problem = _problem(value)
        if problem:
            yield f"{place}: {value} {problem}"


def _problem(value: object) -> str:
    if isinstance(value, datetime) and value.tzinfo is None:
        return "has no offset from UTC; write one, such as +02:00"
    if isinstance(value, datetime) and not FIRST_YEAR <= value.year <= LAST_YEAR:
        return f"is not between {FIRST_YEAR} and {LAST_YEAR}"
    return "is not a finite number" if isinstance(value, float) and not math.isfinite(value) else ""
