"""The events that stand once every correction has been followed, in the order in which they happened."""

from collections.abc import Iterable

from scheduler.record.events import AnyEvent, Correction, Plain


def standing(events: Iterable[AnyEvent]) -> tuple[Plain, ...]:
    """Follow the corrections.

    Parameters
    ----------
    events : iterable of AnyEvent
        As recorded.

    Returns
    -------
    tuple of Plain
        By the time at which they happened, those of one moment as they were recorded. What stands in the place of
        another event has the id of its correction.
    """
    stands, _ = _followed(events)
    return tuple(sorted(stands.values(), key=lambda event: event.happened_at))


def withdrawals(events: Iterable[AnyEvent]) -> dict[str, Correction]:
    """Corrections that withdrew an event and stand themselves, by their ids; the event can be told anew in their place."""
    return _followed(events)[1]


def _followed(events: Iterable[AnyEvent]) -> tuple[dict[str, Plain], dict[str, Correction]]:
    stands: dict[str, Plain] = {}
    gone: dict[str, Correction] = {}
    for event in events:
        if not isinstance(event, Correction):
            stands.setdefault(event.id, event)
        elif stands.pop(event.corrects, None) is None and gone.pop(event.corrects, None) is None:
            continue
        elif event.instead is None:
            gone[event.id] = event
        else:
            told = {"id": event.id, "recorded_at": event.recorded_at, "by": event.by, "note": event.note}
            stands[event.id] = event.instead.model_copy(update=told)
    return stands, gone


def fate_of(events: Iterable[AnyEvent], event_id: str) -> Correction | None:
    """The last correction of an event that does not stand as it was recorded; None if it stands."""
    last, found = event_id, None
    for event in events:
        if isinstance(event, Correction) and event.corrects == last:
            last, found = event.id, event
    return found
