"""The work axis without arrays: the few questions about one slot at a time that a saved room has to answer."""

from bisect import bisect_left
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo


@dataclass(frozen=True, slots=True)
class PlainGrid:
    """Working slots and the real time behind them, as in :class:`~scheduler.activities.time_grid.TimeGrid`.

    Attributes
    ----------
    origin : datetime
        UTC moment at which real slot 0 starts.
    grid_min : int
        Length of a slot in minutes.
    real : tuple of int
        For each working slot the number of its real slot, ascending.
    zone : ZoneInfo
    """

    origin: datetime
    grid_min: int
    real: tuple[int, ...]
    zone: ZoneInfo

    def start_of(self, slot: int) -> datetime:
        """Moment at which a working slot starts (UTC)."""
        return self.origin + timedelta(minutes=self.real[slot] * self.grid_min)

    def end_of(self, end: int) -> datetime:
        """Moment at which work that occupies the slots before ``end`` ends (UTC); the origin for 0."""
        return self.origin + timedelta(minutes=(self.real[end - 1] + 1) * self.grid_min) if end else self.origin

    def first_from(self, moment: datetime) -> int:
        """First working slot that starts at or after a moment; the number of slots if there is none."""
        return bisect_left(self.real, -(-(moment.astimezone(UTC) - self.origin) // timedelta(minutes=self.grid_min)))
