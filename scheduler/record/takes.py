"""Every taking of material: what was reported, and what was planned for the steps of which nothing was reported."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.record.events import Fate, Plain, Taken, Used
from scheduler.record.progress import Progress, Run
from scheduler.record.taken import taken_from_plan
from scheduler.schedule.schedule import Schedule


@dataclass(frozen=True, slots=True)
class Take:
    """Material from one pack at a moment; ``fate`` is None where the plan says it: what is left is recapped if it is worth it."""

    at: datetime
    cartridge_id: str
    lot_id: str
    ml: float
    fate: Fate | None


def takes_of(events: Iterable[Plain], progress: Progress, schedule: Schedule) -> list[Take]:
    """Takings in the order of time.

    A reported use stands in the place of what was planned from the same cartridge for the same step. Of a step that was
    broken off, only what is reported counts if anything is: uses, else the volume or the share that is done, cartridge after
    cartridge; else all that was planned is taken to be gone.
    """
    uses = [event for event in events if isinstance(event, Used)]
    works = {(work.unit_id, work.name): work for work in schedule.work}
    found = [Take(use.happened_at, use.cartridge_id, use.lot_id, use.ml, use.fate) for use in uses]
    for run in (*progress.broken_off, *progress.runs.values()):
        planned = run.taken or taken_from_plan(works.get((run.unit_id, run.step)))
        found += _planned(run, planned, uses)
    return sorted(found, key=lambda take: take.at)


def _planned(run: Run, planned: tuple[Taken, ...], uses: list[Used]) -> Iterator[Take]:
    names = {taken.cartridge_id for taken in planned}
    here = [use for use in uses if _is_for(use, run, names)]
    reported = {use.cartridge_id for use in here}
    if run.stopped is not None and reported:
        return
    left_ml = _used_ml(run, sum(taken.taken_ml for taken in planned))
    for taken in planned:
        ml = min(taken.taken_ml, left_ml)
        left_ml -= ml
        if taken.cartridge_id not in reported and ml > 0:
            yield Take(run.started_at, taken.cartridge_id, taken.lot_id, ml, None)


def _used_ml(run: Run, planned_ml: float) -> float:
    """What a run took of what was planned for it."""
    stopped = run.stopped
    if stopped is None or (stopped.ml is None and stopped.done_pct is None):
        return planned_ml
    return stopped.ml if stopped.ml is not None else planned_ml * stopped.done_share


def _is_for(use: Used, run: Run, planned: set[str]) -> bool:
    """Whether a use was for a run: it says so, or it is of one of its cartridges and not before it began."""
    if use.unit_id is not None:
        return (use.unit_id, use.step) == (run.unit_id, run.step)
    until = run.ended_at
    return use.cartridge_id in planned and run.started_at <= use.happened_at and (until is None or use.happened_at <= until)
