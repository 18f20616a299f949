"""Every taking of material: what was reported, and what was planned for the steps of which nothing was reported."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.record.events import Fate, Plain, Taken, Used
from scheduler.record.history import Works
from scheduler.record.progress import Progress, Run
from scheduler.record.taken import taken_from_plan


@dataclass(frozen=True, slots=True)
class Take:
    """Material from one pack at a moment; ``fate`` is None where the plan says it: what is left is recapped if it is worth it."""

    at: datetime
    cartridge_id: str
    lot_id: str
    ml: float
    fate: Fate | None


def takes_of(events: Iterable[Plain], progress: Progress, works: Works) -> list[Take]:
    """Takings in the order of time.

    A reported use stands in the place of what was planned from the same cartridge for the same step. Of a step that was
    broken off, only what is reported counts if anything is: uses, else the volume or the share that is done, cartridge after
    cartridge; else all that was planned is taken to be gone.

    Parameters
    ----------
    works : mapping
        The latest schedule by unit and step.
    """
    uses = [event for event in events if isinstance(event, Used)]
    found = [Take(use.happened_at, use.cartridge_id, use.lot_id, use.ml, use.fate) for use in uses]
    of_step, of_pack = _grouped(uses)
    for run in (*progress.broken_off, *progress.runs.values()):
        planned = run.taken or taken_from_plan(works.get((run.unit_id, run.step)))
        said = {use.cartridge_id for use in of_step.get((run.unit_id, run.step), ())}
        said |= {p.cartridge_id for p in planned if any(_is_during(use, run) for use in of_pack.get(p.cartridge_id, ()))}
        found += _planned(run, planned, said)
    return sorted(found, key=lambda take: take.at)


def _grouped(uses: Iterable[Used]) -> tuple[dict[tuple[str, str | None], list[Used]], dict[str, list[Used]]]:
    """Uses by the step that they name, and those that name none by their pack."""
    of_step: dict[tuple[str, str | None], list[Used]] = {}
    of_pack: dict[str, list[Used]] = {}
    for use in uses:
        if use.unit_id is not None:
            of_step.setdefault((use.unit_id, use.step), []).append(use)
        else:
            of_pack.setdefault(use.cartridge_id, []).append(use)
    return of_step, of_pack


def _planned(run: Run, planned: tuple[Taken, ...], reported: set[str]) -> Iterator[Take]:
    """Yield what a run took of what was planned for it, but for the packs of which it is reported."""
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


def _is_during(use: Used, run: Run) -> bool:
    """Whether a use that names no step fell into a run."""
    return run.started_at <= use.happened_at and (run.ended_at is None or use.happened_at <= run.ended_at)
