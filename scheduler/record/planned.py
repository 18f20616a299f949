"""What the plan knows of a step that is reported: how long it takes from its real start on, and what it takes."""

from datetime import datetime, timedelta

from scheduler.record.desk import Desk
from scheduler.record.taken import taken_from_plan
from scheduler.shop.working_time import merged, stretches_between

LONGEST_STEP: timedelta = timedelta(days=14)


def attended_min(desk: Desk, unit_id: str, step: str) -> float:
    """Attended minutes of a step in the plan, or by its method where the plan does not have it."""
    work = desk.works.get((unit_id, step))
    if work is not None:
        return sum((span.end - span.start).total_seconds() for span in work.spans) / 60
    return next((need.minutes for need in desk.needs_with(unit_id, step) if need.name == step), 0.0)


def planned_end(desk: Desk, unit_id: str, step: str, start: datetime) -> datetime:
    """When a step ends that begins at ``start``: its attended time goes by while somebody of the crew is on shift.

    A step that may not pause runs through.
    """
    minutes = attended_min(desk, unit_id, step)
    need = next((n for n in desk.needs_with(unit_id, step) if n.name == step), None)
    if need is None or need.method is None or not need.method.may_pause:
        return start + timedelta(minutes=minutes)
    open_times = merged(
        (a, b) for person in desk.shop.crew for a, b, _ in stretches_between(desk.shop, person, start, start + LONGEST_STEP)
    )
    for begin, end in open_times:
        here = (end - begin).total_seconds() / 60
        if here >= minutes:
            return begin + timedelta(minutes=minutes)
        minutes -= here
    return start + timedelta(minutes=minutes)


def planned_start(desk: Desk, unit_id: str, step: str, end: datetime) -> datetime:
    """When a step that ended at ``end`` began, if nobody said so: as long before as it takes, not before the step ahead of it."""
    names = [need.name for need in desk.needs_with(unit_id, step)]
    before = [desk.run_of(unit_id, name) for name in names[: names.index(step) if step in names else 0]]
    ends = [run.ended_at for run in before if run is not None and run.ended_at is not None]
    return max([end - timedelta(minutes=attended_min(desk, unit_id, step)), *(at for at in ends if at < end)])


def planned_ml(desk: Desk, unit_id: str, step: str) -> float:
    """What a film takes, purge included: what was planned when it was begun, else by its volume; 0 for any other step."""
    run = desk.run_of(unit_id, step)
    taken = (run.taken if run is not None else ()) or taken_from_plan(desk.works.get((unit_id, step)))
    need = next((n for n in desk.needs_with(unit_id, step) if n.name == step), None)
    return sum(piece.taken_ml for piece in taken) or (need.volume_ml if need is not None else 0.0)
