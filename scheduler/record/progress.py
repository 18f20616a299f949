"""How far each step of each unit is, from the events that stand."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

from scheduler.record.events import Failed, Finished, OfStep, Plain, Started, Stopped, Taken

Key = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Run:
    """A step from its start on: where, by whom, from what; ``ended_at`` is None while it is under way.

    ``stopped`` is the report that it was broken off, ``failed`` that it has to be made good.
    """

    unit_id: str
    step: str
    started_at: datetime
    ended_at: datetime | None = None
    planned_end: datetime | None = None
    bay_id: str | None = None
    people: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    taken: tuple[Taken, ...] = ()
    stopped: Stopped | None = None
    failed: Failed | None = None


@dataclass(frozen=True)
class Progress:
    """All runs.

    Attributes
    ----------
    runs : mapping
        The latest run of each step by unit and step.
    broken_off : tuple of Run
        Earlier runs of a step that was begun again, and runs that were stopped.
    """

    runs: Mapping[Key, Run] = field(default_factory=dict)
    broken_off: tuple[Run, ...] = ()


def progress_of(events: Iterable[Plain], now: datetime) -> Progress:
    """Follow the steps through the events up to ``now``."""
    runs: dict[Key, Run] = {}
    broken: list[Run] = []
    for event in events:
        if not isinstance(event, OfStep) or event.happened_at > now:
            continue
        key = (event.unit_id, event.step)
        before = runs.get(key)
        match event:
            case Started():
                if before is not None:
                    broken.append(before)
                runs[key] = _begun(event)
            case Finished():
                runs[key] = _ended(event, before)
            case Stopped() if before is not None:
                runs[key] = replace(before, ended_at=event.happened_at, stopped=event)
            case Failed() if before is not None:
                runs[key] = replace(before, failed=event)
    return Progress(runs, tuple(broken))


def _begun(event: Started) -> Run:
    where = (event.bay_id, event.people, event.tools, event.taken)
    return Run(event.unit_id, event.step, event.happened_at, None, event.planned_end, *where)


def _ended(event: Finished, before: Run | None) -> Run:
    """Whatever the report of the end does not say is as it was at the start."""
    open_run = before if before is not None and before.ended_at is None else None
    start = event.started_at or (open_run.started_at if open_run else event.happened_at)
    return Run(
        event.unit_id,
        event.step,
        start,
        event.happened_at,
        bay_id=event.bay_id or (open_run.bay_id if open_run else None),
        people=event.people or (open_run.people if open_run else ()),
        tools=event.tools or (open_run.tools if open_run else ()),
        taken=event.taken or (open_run.taken if open_run else ()),
    )
