"""Events of a plan that went as it was planned."""

from datetime import datetime
from typing import Any

from scheduler.pipeline import Plan
from scheduler.record.events import AnyEvent, Finished, Started, sealed


def event(model: Any, at: datetime, **fields: Any) -> AnyEvent:
    """An event that is recorded when it happens, with its id."""
    return sealed(model(happened_at=at, recorded_at=at, **fields))


def reported(found: Plan, until: datetime) -> list[AnyEvent]:
    """Starts and ends as planned, in the order of time."""
    events = []
    for work in found.schedule.work:
        of = {"unit_id": work.unit_id, "step": work.name}
        events += [event(Started, work.start, **of)] if work.start <= until else []
        events += [event(Finished, work.end, **of)] if work.end <= until else []
    return sorted(events, key=lambda e: e.happened_at)
