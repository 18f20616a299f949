"""What has happened to the units, as the rows of done steps that a plan starts from."""

import math
from collections.abc import Collection, Iterator
from datetime import datetime, timedelta

from scheduler.record.progress import Progress, Run
from scheduler.record.rework_now import Rounds
from scheduler.schedule.schedule import Schedule, Work
from scheduler.shop.fixed import Done
from scheduler.shop.moments import at_site
from scheduler.shop.shop import Shop


def history_now(shop: Shop, schedule: Schedule, progress: Progress, rounds: Rounds, begin: datetime) -> tuple[Done, ...]:
    """Rows of the folder, of finished steps, and of steps that are under way when the plan begins.

    Parameters
    ----------
    rounds : Rounds
        Which of the finished steps still count as done.
    begin : datetime
        When the plan begins; a step that is under way then ends after it.
    """
    works = {(work.unit_id, work.name): work for work in schedule.work}
    rows = {(row.unit_id, row.step): row for row in shop.done}
    for key, run in progress.runs.items():
        if run.stopped is None or run.stopped.is_part:
            rows[key] = _row(shop, run, works.get(key), begin)
    running = {key for key, run in progress.runs.items() if run.ended_at is None}
    stands = {(unit_id, step) for unit_id in {key[0] for key in rows} for step in _without_gaps(rounds, unit_id, running)}
    kept = (row for key, row in rows.items() if key in stands)
    return tuple(sorted(kept, key=lambda row: (row.started_at, row.unit_id)))


def _without_gaps(rounds: Rounds, unit_id: str, running: Collection[tuple[str, str]]) -> Iterator[str]:
    """Yield a unit's steps in order as far as they are done, and the next one if it is under way."""
    done = set(rounds.done.get(unit_id, ()))
    for need in rounds.needs(unit_id):
        if need.name not in done:
            if (unit_id, need.name) in running:
                yield need.name
            return
        yield need.name


def _row(shop: Shop, run: Run, work: Work | None, begin: datetime) -> Done:
    tz = shop.site.tz
    ended_at = run.ended_at or _expected_end(shop, run, work, begin)
    planned = tuple(who.person_id for who in work.people) if work is not None else ()
    return Done(
        unit_id=run.unit_id,
        step=run.step,
        started_at=at_site(run.started_at, tz),
        ended_at=at_site(ended_at, tz),
        bay_id=run.bay_id or (work.bay_id if work is not None else None),
        people=run.people or planned,
        tools=run.tools or (work.tools if work is not None else ()),
    )


def _expected_end(shop: Shop, run: Run, work: Work | None, begin: datetime) -> datetime:
    """When a step that is under way will be done: as planned from its start on, after ``begin`` whatever was planned."""
    grid_s = shop.site.grid_min * 60
    next_slot = datetime.fromtimestamp((math.floor(begin.timestamp() / grid_s) + 1) * grid_s, begin.tzinfo)
    lasts = work.end - work.start if work is not None else timedelta(0)
    return max(run.planned_end or run.started_at + lasts, next_slot)
