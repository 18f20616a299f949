"""The difference of two schedules: what moved, and for which customer, person and bay it matters."""

from collections.abc import Callable, Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from scheduler.schedule.schedule import DeliveryDate, Schedule, Work

Touched = Callable[[Work], AbstractSet[str]]


@dataclass(frozen=True, slots=True)
class StepMove:
    """A step that both schedules plan, and not alike."""

    before: Work
    after: Work

    @property
    def shift(self) -> timedelta:
        """How much later it starts; negative for earlier."""
        return self.after.start - self.before.start

    @property
    def other_time(self) -> bool:
        """Whether it starts, pauses or ends at another time."""
        return self.before.spans != self.after.spans

    @property
    def other_bay(self) -> bool:
        """Whether it is done in another bay."""
        return self.before.bay_id != self.after.bay_id

    @property
    def came(self) -> frozenset[str]:
        """People who are in it now and were not."""
        return _people(self.after) - _people(self.before)

    @property
    def went(self) -> frozenset[str]:
        """People who were in it and are not any more."""
        return _people(self.before) - _people(self.after)

    @property
    def is_move(self) -> bool:
        """Whether anybody would notice."""
        return self.other_time or self.other_bay or bool(self.came) or bool(self.went)


@dataclass(frozen=True, slots=True)
class DateMove:
    """An order whose hand-over moves; empty where one of the schedules does not have it."""

    before: DeliveryDate | None
    after: DeliveryDate | None

    @property
    def either(self) -> DeliveryDate:
        """The newer of the two that is there."""
        found = self.after or self.before
        if found is None:
            msg = "a move of nothing"
            raise ValueError(msg)
        return found

    @property
    def shift(self) -> timedelta | None:
        """How much later it is handed back; None where one is missing."""
        return self.after.delivered_at - self.before.delivered_at if self.before and self.after else None


@dataclass(frozen=True, slots=True)
class Changes:
    """What differs between two schedules.

    Attributes
    ----------
    moves : tuple of StepMove
        Steps that both plan, by the start that comes first; what is done in the later one is history, not a move.
    new, gone : tuple of Work
        Steps that only the later, only the earlier one plans.
    happened : tuple of Work
        Steps that the earlier one plans and the later one has as done.
    dates : tuple of DateMove
        Orders whose last unit is handed back at another time.
    people, bays : Mapping of str to tuple of date
        Local days on which the work of a person, or in a bay, is not what it was.
    """

    moves: tuple[StepMove, ...]
    new: tuple[Work, ...]
    gone: tuple[Work, ...]
    happened: tuple[Work, ...]
    dates: tuple[DateMove, ...]
    people: Mapping[str, tuple[date, ...]]
    bays: Mapping[str, tuple[date, ...]]

    @property
    def units(self) -> tuple[str, ...]:
        """Units with a step at another time or in another bay, in the order in which that is noticed."""
        return tuple(dict.fromkeys(m.after.unit_id for m in self.moves if m.other_time or m.other_bay))

    @property
    def none(self) -> bool:
        """Whether nobody would notice anything."""
        return not (self.moves or self.new or self.gone or self.dates)


def changes(before: Schedule, after: Schedule) -> Changes:
    """Compare two schedules of one site.

    Parameters
    ----------
    before, after : Schedule
        ``after`` may begin later; what happened in between is history in it.
    """
    zone = ZoneInfo(after.zone)
    was, now = ({w.work_id: w for w in schedule.work} for schedule in (before, after))
    planned = [w for w in was.values() if not w.done]
    pairs = [StepMove(w, now[w.work_id]) for w in planned if w.work_id in now and not now[w.work_id].done]
    moves = sorted((p for p in pairs if p.is_move), key=lambda m: (min(m.before.start, m.after.start), m.after.work_id))
    new = tuple(w for w in after.work if w.work_id not in was and not w.done)
    gone = tuple(w for w in planned if w.work_id not in now)
    return Changes(
        moves=tuple(moves),
        new=new,
        gone=gone,
        happened=tuple(w for w in planned if w.work_id in now and now[w.work_id].done),
        dates=_dates(before, after),
        people=_days(moves, new, gone, zone, _people),
        bays=_days(moves, new, gone, zone, lambda w: {w.bay_id} if w.bay_id else frozenset()),
    )


def _people(work: Work) -> frozenset[str]:
    return frozenset(p.person_id for p in work.people)


def _dates(before: Schedule, after: Schedule) -> tuple[DateMove, ...]:
    was, now = ({d.order_id: d for d in schedule.deliveries} for schedule in (before, after))
    pairs = [DateMove(was.get(order), now.get(order)) for order in dict.fromkeys((*now, *was))]
    moved = [p for p in pairs if p.before is None or p.after is None or p.before.delivered_at != p.after.delivered_at]
    return tuple(sorted(moved, key=lambda m: (m.either.delivered_at, m.either.order_id)))


def _days(
    moves: Iterable[StepMove], new: Iterable[Work], gone: Iterable[Work], zone: ZoneInfo, touched: Touched
) -> Mapping[str, tuple[date, ...]]:
    """Local days by the name that ``touched`` gives, on which something comes or goes or is at another time."""
    found: dict[str, set[date]] = {}
    for work in (*(w for m in moves for w in (m.before, m.after)), *new, *gone):
        for name in touched(work):
            found.setdefault(name, set()).update(span.start.astimezone(zone).date() for span in work.spans)
    return {name: tuple(sorted(days)) for name, days in sorted(found.items())}
