"""Moments as the clock on the wall of the site shows them, in words and on the axis of a chart."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from scheduler.shop.day_words import MONTHS, day_text

_LONG_DAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_SECOND: Final = timedelta(seconds=1)
_EPOCH: Final = datetime(1970, 1, 1)


@dataclass(frozen=True, slots=True)
class LocalTime:
    """Wall time of one zone."""

    tz: ZoneInfo

    def day(self, moment: datetime) -> date:
        """Local date of an aware moment."""
        return moment.astimezone(self.tz).date()

    def clock(self, moment: datetime) -> str:
        """Clock time, ``07:15``; in the hour that the autumn clock repeats, the second round is marked."""
        local = moment.astimezone(self.tz)
        return f"{local:%H:%M}{' (2nd)' if self.is_second_round(local) else ''}"

    def text(self, moment: datetime) -> str:
        """Day and clock time, ``Mon 1 Sep 07:15``."""
        return f"{day_text(self.day(moment))} {self.clock(moment)}"

    def iso(self, moment: datetime) -> str:
        """ISO 8601 to the minute, with the offset of the site at that moment."""
        return moment.astimezone(self.tz).isoformat(timespec="minutes")

    def axis_ms(self, moment: datetime) -> int:
        """Wall time as if it were UTC, in milliseconds since 1970: a chart that knows no zones then shows wall time.

        The autumn hour that is repeated is drawn twice in the same place, the spring hour that is skipped stays empty.
        """
        return int((moment.astimezone(self.tz).replace(tzinfo=None) - _EPOCH) / _SECOND * 1000)

    def axis_span_ms(self, start: datetime, end: datetime) -> tuple[int, int]:
        """Start and length of a stretch on the axis; never shorter than nothing where the clock goes back inside it."""
        first, last = self.axis_ms(start), self.axis_ms(end)
        real_ms = int((end - start) / _SECOND * 1000)
        return first, (last - first if last > first else real_ms)

    def midnight(self, day: date) -> datetime:
        """Instant at which a local day starts."""
        return datetime.combine(day, time(0), self.tz).astimezone(UTC)

    def days(self, start: datetime, end: datetime) -> Iterator[date]:
        """Yield the local days that a stretch touches, in order; an end at midnight does not touch the next day."""
        day = self.day(start)
        while self.midnight(day) < end:
            yield day
            day += timedelta(days=1)

    def is_second_round(self, moment: datetime) -> bool:
        """Tell whether the clock shows this moment for the second time, in the hour that autumn repeats."""
        local = moment.astimezone(self.tz)
        return bool(local.fold) and local.utcoffset() != local.replace(fold=0).utcoffset()


def long_day_text(day: date) -> str:
    """Day in full, ``Monday 1 Sep 2025``."""
    return f"{_LONG_DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def duration_text(minutes: float) -> str:
    """Length of time, ``1 h 30 min``."""
    hours, rest = divmod(round(minutes), 60)
    return " ".join(part for part in (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "") if part)
