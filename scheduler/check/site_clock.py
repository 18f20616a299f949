"""The clock and the calendar of a site as the checks read them: moments, working stretches, closures."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from scheduler.check.moments import Stretch, instant
from scheduler.shop.calendar import Shut
from scheduler.shop.day_words import moment_text
from scheduler.shop.resources import Person
from scheduler.shop.shop import Shop
from scheduler.shop.working_time import merged, working_stretches


@dataclass(frozen=True)
class SiteClock:
    """When somebody works at a site and what is shut, and its moments in UTC, on its clock and in words."""

    shop: Shop

    @cached_property
    def shifts(self) -> dict[str, tuple[tuple[Stretch, bool], ...]]:
        """Working stretches by person id, each with whether it is overtime; in UTC, in order."""
        alike: dict[tuple[str, tuple[Stretch, ...]], tuple[tuple[Stretch, bool], ...]] = {}
        return {person.person_id: self._shifts_of(person, alike) for person in self.shop.crew}

    def _shifts_of(
        self, person: Person, alike: dict[tuple[str, tuple[Stretch, ...]], tuple[tuple[Stretch, bool], ...]]
    ) -> tuple[tuple[Stretch, bool], ...]:
        """Look up a person's stretches; people of one shift without absences of their own have the same."""
        key = (person.shift_id, self.closed.get((Shut.PERSON, person.person_id), ()))
        if key not in alike:
            stretches = working_stretches(self.shop, person)
            alike[key] = tuple((Stretch(self.utc(a), self.utc(b)), overtime) for a, b, overtime in stretches)
        return alike[key]

    @cached_property
    def manned(self) -> tuple[Stretch, ...]:
        """Times in which at least one member of the crew is on shift."""
        every = {stretch for stretches in self.shifts.values() for stretch, _ in stretches}
        return tuple(Stretch(a, b) for a, b in merged(every))

    @cached_property
    def closed(self) -> dict[tuple[Shut, str], tuple[Stretch, ...]]:
        """Closures by what is shut and its id, empty for the site; sorted and free of overlap."""
        shut: dict[tuple[Shut, str], list[tuple[datetime, datetime]]] = defaultdict(list)
        for row in self.shop.closures:
            which = "" if row.what is Shut.SITE else row.which
            shut[row.what, which].append((self.utc(row.closed_from), self.utc(row.closed_until)))
        return {key: tuple(Stretch(a, b) for a, b in merged(spans)) for key, spans in shut.items()}

    def utc(self, moment: datetime) -> datetime:
        """Return a moment of the schedule or the shop in UTC."""
        return instant(moment, self.shop.site.tz)

    def local(self, moment: datetime) -> datetime:
        """Return a moment as the site's clock shows it."""
        return moment.astimezone(self.shop.site.tz)

    def from_now(self) -> datetime:
        """Return the first moment that may be planned, UTC; what ends before it is history."""
        return self.utc(self.shop.site.plan_from)

    def when(self, moment: datetime) -> str:
        """Return a moment in words, such as ``Tue 14 Oct 10:15``."""
        return moment_text(self.local(moment))
