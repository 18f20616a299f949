"""The work axis: only the slots in which somebody works, so that a pause over a break or a night costs no slot."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from functools import cached_property
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

MINUTES_A_DAY = 1440


@dataclass(frozen=True)
class TimeGrid:
    """Working slots and the real time behind them.

    Attributes
    ----------
    origin : datetime
        UTC moment at which real slot 0 starts.
    grid_min : int
        Length of a slot in minutes.
    real : NDArray[np.int64]
        Shape (n,): for each working slot the number of its real slot, ascending.
    zone : ZoneInfo
        Zone in which local days are told apart.
    """

    origin: datetime
    grid_min: int
    real: NDArray[np.int64]
    zone: ZoneInfo

    def __len__(self) -> int:
        """Return the number of working slots."""
        return int(self.real.size)

    @cached_property
    def start_min(self) -> NDArray[np.float64]:
        """Minutes from the origin to the start of each working slot, shape (n,)."""
        return self.real.astype(np.float64) * self.grid_min

    @cached_property
    def end_min(self) -> NDArray[np.float64]:
        """Minutes from the origin to the end of work that ends before slot ``e``, shape (n + 1,); entry 0 is the origin."""
        return np.concatenate([[0.0], self.start_min + self.grid_min])

    @cached_property
    def day(self) -> NDArray[np.int64]:
        """Local calendar day of each working slot as an ordinal, shape (n,)."""
        return self._days_at(self.start_min)

    @cached_property
    def end_day(self) -> NDArray[np.int64]:
        """Local calendar day on which work that ends before slot ``e`` ends, as an ordinal, shape (n + 1,)."""
        return self._days_at(self.end_min)

    def _days_at(self, minutes: NDArray[np.float64]) -> NDArray[np.int64]:
        """Local days, as ordinals, of ascending minutes from the origin: one looks up between which midnights they lie."""
        first = self.origin.astimezone(self.zone).date()
        days = range(1, int(minutes.max(initial=0.0) // MINUTES_A_DAY) + 3)
        midnights = [datetime.combine(first + timedelta(days=n), time(), self.zone) for n in days]
        return first.toordinal() + np.searchsorted([self.minutes_at(m) for m in midnights], minutes, side="right")

    def start_of(self, slot: int) -> datetime:
        """Moment at which a working slot starts (UTC)."""
        return self.origin + timedelta(minutes=float(self.start_min[slot]))

    def end_of(self, end: int) -> datetime:
        """Moment at which work that occupies the slots before ``end`` ends (UTC)."""
        return self.origin + timedelta(minutes=float(self.end_min[end]))

    def minutes_at(self, moment: datetime) -> float:
        """Minutes from the origin to ``moment``; negative before it."""
        return (moment.astimezone(UTC) - self.origin).total_seconds() / 60

    def first_from(self, minutes: NDArray[np.float64] | float) -> NDArray[np.int64]:
        """First working slot that starts at or after the given minutes; ``n`` if there is none."""
        return np.searchsorted(self.start_min, np.asarray(minutes) - 1e-6, side="left")

    def last_until(self, minutes: NDArray[np.float64] | float) -> NDArray[np.int64]:
        """Last working slot that starts at or before the given minutes; -1 if there is none."""
        return np.searchsorted(self.start_min, np.asarray(minutes) + 1e-6, side="right") - 1

    def inside(self, start: datetime, end: datetime) -> tuple[int, int]:
        """Working slots that lie wholly inside a stretch of time, as a half-open range (rounded inward)."""
        first = int(self.first_from(self.minutes_at(start)))
        last = int(self.last_until(self.minutes_at(end) - self.grid_min)) + 1
        return first, max(first, last)

    def touched(self, start: datetime, end: datetime) -> tuple[int, int]:
        """Working slots that a stretch of time touches, as a half-open range (rounded outward); no time touches none."""
        first = int(np.searchsorted(self.start_min + self.grid_min, self.minutes_at(start) + 1e-6, side="left"))
        last = int(np.searchsorted(self.start_min, self.minutes_at(end) - 1e-6, side="left"))
        return first, max(first, last) if start < end else first


def work_axis(
    stretches: Iterable[tuple[datetime, datetime]], plan_from: datetime, plan_until: datetime, grid_min: int, zone: ZoneInfo
) -> TimeGrid:
    """Build the axis from everybody's working stretches.

    Parameters
    ----------
    stretches : iterable of (datetime, datetime)
        Aware stretches of working time; they may overlap.
    plan_from, plan_until : datetime
        Horizon.
    grid_min : int
        Length of a slot; divides an hour, so that slots fall on the same wall times in every zone of whole hours.
    """
    seconds = grid_min * 60
    origin = datetime.fromtimestamp(-(-plan_from.timestamp() // seconds) * seconds, UTC)
    total = int((plan_until.timestamp() - origin.timestamp()) // seconds)
    is_open = np.zeros(max(total, 0), dtype=bool)
    for start, end in stretches:
        first = max(0, int(-(-(start.timestamp() - origin.timestamp()) // seconds)))
        last = min(total, int((end.timestamp() - origin.timestamp()) // seconds))
        is_open[first:last] = True
    return TimeGrid(origin, grid_min, np.flatnonzero(is_open), zone)
