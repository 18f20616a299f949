"""History of a plan that went as people were told."""

from datetime import datetime

from scheduler.schedule.schedule import Schedule
from scheduler.shop.fixed import Done


def begun_by(schedule: Schedule, now: datetime) -> tuple[Done, ...]:
    """Steps that have begun before a moment, each with its times, bay, people and tools as planned."""
    return tuple(
        Done(
            unit_id=w.unit_id,
            step=w.name,
            started_at=w.start,
            ended_at=w.end,
            bay_id=w.bay_id,
            people=tuple(p.person_id for p in w.people),
            tools=w.tools,
        )
        for w in schedule.work
        if w.start < now
    )
