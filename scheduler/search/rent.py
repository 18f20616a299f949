"""Rent of hired equipment: from the first to the last day on which it is needed.

Alike pieces are handed out the cheapest first, so the piece at level ``k`` is in use only when ``k`` others are. Warmers
and compressors are not counted here: they run whenever work does. The checker counts what the schedule names.
"""

from collections.abc import Iterator

from scheduler.activities.network import Network, Rent
from scheduler.activities.placed import Placed


def rent_cents(net: Network, placed: Placed) -> int:
    """Rent of a whole solution in hundredths of the currency."""
    return sum(_one(net, placed, rent) for rent in net.rents)


def _one(net: Network, placed: Placed, rent: Rent) -> int:
    days: list[int] = []
    for start, end in _above(sorted(_uses(net, placed, rent)), rent.level):
        days += [net.day[start], net.day[end - 1]]
    return rent.cents_a_day * (max(days) - min(days) + 1) if days else 0


def _uses(net: Network, placed: Placed, rent: Rent) -> Iterator[tuple[int, int]]:
    for i, activity in enumerate(net.activities):
        named = any(w == rent.worker for w, _ in placed.crew[i])
        pooled = any(d.pool == rent.pool for d in activity.demands)
        if named or pooled:
            yield placed.start[i], placed.start[i] + activity.slots


def _above(uses: list[tuple[int, int]], level: int) -> Iterator[tuple[int, int]]:
    """Yield the uses that begin while ``level`` others are running."""
    for k, (start, end) in enumerate(uses):
        if sum(1 for _, other in uses[:k] if other > start) >= level:
            yield start, end
