"""What has happened to the units, as the rows of done steps that a plan starts from."""

import math
from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import datetime, timedelta

from scheduler.record.progress import Progress, Run
from scheduler.record.rework_now import Rounds
from scheduler.schedule.schedule import Work
from scheduler.shop.fixed import Done
from scheduler.shop.moments import at_site
from scheduler.shop.shop import Shop

Works = Mapping[tuple[str, str], Work]
"""Work of a schedule by unit and step."""


def history_now(shop: Shop, works: Works, progress: Progress, rounds: Rounds, begin: datetime) -> tuple[Done, ...]:
    """Rows of the folder, of finished steps, and of steps that are under way when the plan begins.

    Parameters
    ----------
    works : mapping
        The latest schedule by unit and step.
    rounds : Rounds
        Which of the finished steps still count as done.
    begin : datetime
        When the plan begins; a step that is under way then ends after it.
    """
    listed: dict[str, list[Done]] = {}
    for row in shop.done:
        listed.setdefault(row.unit_id, []).append(row)
    runs: dict[str, list[Run]] = {}
    for run in progress.runs.values():
        runs.setdefault(run.unit_id, []).append(run)
    units = dict.fromkeys([*listed, *runs])
    found = (row for u in units for row in history_of(u, works, listed.get(u, ()), runs.get(u, ()), rounds, begin))
    return tuple(sorted(found, key=lambda row: (row.started_at, row.unit_id)))


def history_of(
    unit_id: str, works: Works, listed: Iterable[Done], runs: Iterable[Run], rounds: Rounds, begin: datetime
) -> tuple[Done, ...]:
    """Rows of one unit by their starts: those that are listed in the folder, and its latest run of every step."""
    rows, running = {row.step: row for row in listed}, set[str]()
    for run in runs:
        if run.stopped is None or run.stopped.is_part:
            rows[run.step] = _row(rounds.shop, run, works.get((unit_id, run.step)), begin)
        if run.ended_at is None:
            running.add(run.step)
    stands = set(_without_gaps(rounds, unit_id, running)) if rows else set[str]()
    kept = (row for step, row in rows.items() if step in stands)
    return tuple(sorted(kept, key=lambda row: row.started_at))


def begin_of(shop: Shop, now: datetime) -> datetime:
    """When a plan that is made now begins: not before that of the folder."""
    return max(at_site(now, shop.site.tz), shop.site.plan_from)


def _without_gaps(rounds: Rounds, unit_id: str, running: Collection[str]) -> Iterator[str]:
    """Yield a unit's steps in order as far as they are done, and the next one if it is under way."""
    done = set(rounds.done.get(unit_id, ()))
    for need in rounds.needs(unit_id):
        if need.name not in done:
            if need.name in running:
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
