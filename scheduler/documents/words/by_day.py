"""Work and warmer loads of a schedule, by local day."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from scheduler.documents.words.local_time import LocalTime
from scheduler.schedule.schedule import Schedule, Span, WarmerLoad, Work


@dataclass(frozen=True, slots=True)
class ByDay:
    """What a local day holds; a day that is not in a mapping has nothing of it.

    Attributes
    ----------
    spans : dict
        Stretches of work that touch the day; one over midnight stands on both days.
    begun : dict
        Work that starts on the day.
    loaded : dict
        Cartridges that go into a warmer on the day.
    """

    spans: dict[date, list[tuple[Work, Span]]]
    begun: dict[date, list[Work]]
    loaded: dict[date, list[tuple[WarmerLoad, Work]]]

    @property
    def days(self) -> tuple[date, ...]:
        """Days on which something is done or loaded, in order."""
        return tuple(sorted(self.spans.keys() | self.loaded.keys()))


def by_day(schedule: Schedule, time: LocalTime) -> ByDay:
    """Sort a schedule into days."""
    spans: dict[date, list[tuple[Work, Span]]] = defaultdict(list)
    begun: dict[date, list[Work]] = defaultdict(list)
    loaded: dict[date, list[tuple[WarmerLoad, Work]]] = defaultdict(list)
    for work in schedule.work:
        begun[time.day(work.start)].append(work)
        for span in work.spans:
            for day in time.days(span.start, span.end):
                spans[day].append((work, span))
        for load in work.loads:
            loaded[time.day(load.loaded_at)].append((load, work))
    return ByDay(dict(spans), dict(begun), dict(loaded))
