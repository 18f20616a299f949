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
    stands: dict[str, Plain] = {}
    for event in events:
        if not isinstance(event, Correction):
            stands.setdefault(event.id, event)
        elif stands.pop(event.corrects, None) is not None and event.instead is not None:
            told = {"id": event.id, "recorded_at": event.recorded_at, "by": event.by, "note": event.note}
            stands[event.id] = event.instead.model_copy(update=told)
    return tuple(sorted(stands.values(), key=lambda event: event.happened_at))
