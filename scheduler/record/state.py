"""The state now, in the figures that a foreman asks for."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.record.desk import Desk
from scheduler.shop.calendar import Closure
from scheduler.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Doing:
    """A step that is under way, and when it is expected to end; ``overdue`` if that has passed."""

    work_id: str
    bay_id: str | None
    people: tuple[str, ...]
    since: datetime
    until: datetime
    overdue: bool


@dataclass(frozen=True, slots=True)
class Unreported:
    """A step that the plan has before now and of which nothing is recorded."""

    work_id: str
    planned_start: datetime


@dataclass(frozen=True, slots=True)
class State:
    """The state at a moment.

    Attributes
    ----------
    done, steps : dict of str to int
        By unit, the steps that are finished, and all of them.
    closures : tuple of Closure
        What is shut now or will be.
    packs : dict of str to int
        Whole packs by lot.
    opened_ml : dict of str to float
        What is left in packs that were recapped.
    """

    now: datetime
    under_way: tuple[Doing, ...]
    unreported: tuple[Unreported, ...]
    done: dict[str, int]
    steps: dict[str, int]
    closures: tuple[Closure, ...]
    packs: dict[str, int]
    opened_ml: dict[str, float]


def state_of(desk: Desk) -> State:
    """Read the state off the projection."""
    shop = desk.shop_now
    done: dict[str, int] = {}
    for row in shop.done:
        done[row.unit_id] = done.get(row.unit_id, 0) + (not row.is_under_way(shop.site.plan_from))
    return State(
        now=desk.now,
        under_way=tuple(_under_way(desk, shop)),
        unreported=tuple(_unreported(desk)),
        done=done,
        steps={unit.unit_id: len(desk.steps_of(unit.unit_id)) for unit in shop.units},
        closures=tuple(row for row in shop.closures if row.closed_until > desk.now),
        packs={lot.lot_id: lot.packs for lot in shop.lots},
        opened_ml={pack.pack_id: pack.remaining_ml for pack in shop.opened},
    )


def _under_way(desk: Desk, shop: Shop) -> Iterator[Doing]:
    for row in shop.done:
        if row.is_under_way(shop.site.plan_from):
            run = desk.run_of(row.unit_id, row.step)
            overdue = run is not None and run.planned_end is not None and run.planned_end <= desk.now
            work_id = f"{row.unit_id}/{row.step}"
            yield Doing(work_id, row.bay_id, row.people, row.started_at, row.ended_at, overdue)


def _unreported(desk: Desk) -> Iterator[Unreported]:
    known = {(row.unit_id, row.step) for row in desk.shop_now.done}
    for work in sorted(desk.schedule.work, key=lambda work: work.start):
        if work.start <= desk.now and not work.done and (work.unit_id, work.name) not in known:
            yield Unreported(work.work_id, work.start)
