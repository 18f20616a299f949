"""Numbers of the rows of rework of a unit, which are in the names of its steps: wipe-r2 is of the second row."""

from collections.abc import Iterable
from itertools import count

from scheduler.shop.fixed import Rework


def numbered(rows: Iterable[Rework]) -> tuple[Rework, ...]:
    """Rows of one unit with their numbers, in the order of these; one without takes the first that nobody has.

    A number that is written down keeps the names of steps as they were told, whatever else is reported of before.
    """
    table = list(rows)
    taken = {row.number for row in table if row.number is not None}
    free = (n for n in count(1) if n not in taken)
    found = (row if row.number is not None else row.model_copy(update={"number": next(free)}) for row in table)
    return tuple(sorted(found, key=lambda row: row.number or 0))


def next_number(rows: Iterable[Rework]) -> int:
    """Number that the next row of a unit takes."""
    taken = {row.number for row in numbered(rows)}
    return next(n for n in count(1) if n not in taken)
