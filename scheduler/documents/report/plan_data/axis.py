"""Times of the page: minutes on the clock of the site since the first midnight that the charts show."""

from datetime import datetime
from typing import Final

from scheduler.documents.charts.views import whole_span
from scheduler.documents.words.local_time import LocalTime
from scheduler.documents.words.work_words import WorkWords

_MIN_MS: Final = 60_000
SECOND_ROUND_START: Final = 1
SECOND_ROUND_END: Final = 2


class Axis:
    """Wall time in whole minutes; what lies between two minutes goes to the one before.

    Attributes
    ----------
    origin_ms : int
        First midnight, as if the clock of the site were UTC.
    """

    def __init__(self, words: WorkWords) -> None:
        self._time: LocalTime = words.time
        self.origin_ms = words.time.axis_ms(words.time.midnight(words.time.day(whole_span(words)[0])))

    def at(self, moment: datetime) -> int:
        """Minute of a moment."""
        return (self._time.axis_ms(moment) - self.origin_ms) // _MIN_MS

    def of_ms(self, axis_ms: int) -> int:
        """Minute of a place on the axis in milliseconds."""
        return (axis_ms - self.origin_ms) // _MIN_MS

    def span(self, start: datetime, end: datetime) -> list[int]:
        """Start and length; where the clock changes, also which ends lie in its second round and the true length.

        Returns
        -------
        list of int
            ``[start, length]`` or ``[start, length, flags, minutes]``.
        """
        first_ms, length_ms = self._time.axis_span_ms(start, end)
        plain = [self.of_ms(first_ms), length_ms // _MIN_MS]
        flags = SECOND_ROUND_START * self._time.is_second_round(start) + SECOND_ROUND_END * self._time.is_second_round(end)
        minutes = int((end - start).total_seconds()) // 60
        return plain if not flags and minutes == plain[1] else [*plain, flags, minutes]
