"""Events by what they are about: a report is looked at beside those of its own unit or pack, not beside all others."""

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from scheduler.record.events import AnyEvent, Correction, OfStep, Plain, Used
from scheduler.record.standing import standing


@dataclass(frozen=True, slots=True)
class Log:
    """Events by subject; see :func:`subject_of`.

    Attributes
    ----------
    events : tuple of AnyEvent
        All of them, as recorded.
    stands : mapping of str to tuple of Plain
        Those that stand, by the time at which they happened, those of one moment as they were recorded.
    ids : mapping of str to frozenset of str
        Ids of those that are recorded, whether they stand or not.
    """

    events: tuple[AnyEvent, ...] = ()
    stands: Mapping[str, tuple[Plain, ...]] = field(default_factory=dict)
    ids: Mapping[str, frozenset[str]] = field(default_factory=dict)

    def knows(self, event: AnyEvent) -> bool:
        """Whether an event is recorded already."""
        return event.id in self.ids.get(subject_of(event), ())

    def with_event(self, event: AnyEvent) -> "Log":
        """The log with one event more; only a correction is looked for among all the others."""
        events = (*self.events, event)
        if isinstance(event, Correction) or self.knows(event):
            return log_of(events)
        subject = subject_of(event)
        here = self.stands.get(subject, ())
        at = bisect_right(here, event.happened_at, key=lambda row: row.happened_at)
        stands = {**self.stands, subject: (*here[:at], event, *here[at:])}
        return Log(events, stands, {**self.ids, subject: self.ids.get(subject, frozenset()) | {event.id}})


def log_of(events: Iterable[AnyEvent]) -> Log:
    """Sort events by subject, corrections followed."""
    recorded = tuple(events)
    stands: dict[str, list[Plain]] = {}
    ids: dict[str, set[str]] = {}
    for plain in standing(recorded):
        stands.setdefault(subject_of(plain), []).append(plain)
    for event in recorded:
        ids.setdefault(subject_of(event), set()).add(event.id)
    return Log(
        recorded,
        {subject: tuple(rows) for subject, rows in stands.items()},
        {subject: frozenset(group) for subject, group in ids.items()},
    )


def of_unit(unit_id: str) -> str:
    """Subject of the steps of a unit."""
    return f"unit {unit_id}"


def of_pack(cartridge_id: str) -> str:
    """Subject of what was taken from a pack."""
    return f"pack {cartridge_id}"


def subject_of(event: AnyEvent) -> str:
    """What an event is about: the steps of a unit, a pack, or else all that is of its kind."""
    match event:
        case OfStep():
            return of_unit(event.unit_id)
        case Used():
            return of_pack(event.cartridge_id)
    return event.kind
