"""Steps under way when the plan begins: they keep their people, tools, air, warmer slots and places until they end."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.activities.masks import span
from scheduler.activities.network import BayClass, Pool, Worker
from scheduler.activities.resources import COUNTED, air_demand, item_id, lift_skill
from scheduler.activities.steps import NeededStep, Route
from scheduler.activities.time_grid import TimeGrid
from scheduler.shop.fixed import Done
from scheduler.shop.methods import Step
from scheduler.shop.product_sheet import Supply
from scheduler.shop.resources import Kind, Person
from scheduler.shop.shop import Shop
from scheduler.shop.working_time import stretches_between


@dataclass(frozen=True, slots=True)
class UnderWay:
    """A step under way, and the slot before which it is over, rounded up."""

    done: Done
    step: NeededStep
    end: int
    last_of_stay: bool

    @property
    def leaves(self) -> int:
        """Slot from which its place is free for somebody else; not the first, which units that are there begin with."""
        return max(self.end, 1)


def under_way(shop: Shop, grid: TimeGrid, routes: Mapping[str, Route]) -> tuple[UnderWay, ...]:
    """Steps under way when the plan begins."""
    now = shop.site.plan_from
    return tuple(_under_way(shop, grid, routes, done) for done in shop.done if done.is_under_way(now))


def _under_way(shop: Shop, grid: TimeGrid, routes: Mapping[str, Route], done: Done) -> UnderWay:
    steps = routes[done.unit_id].steps
    place = next(i for i, step in enumerate(steps) if step.name == done.step)
    step, end = steps[place], grid.touched(shop.site.plan_from, done.ended_at)[1]
    return UnderWay(done, step, end, all(later.stage != step.stage for later in steps[place + 1 :]))


def busy_workers(
    shop: Shop, grid: TimeGrid, workers: tuple[Worker, ...], routes: Mapping[str, Route], rows: tuple[UnderWay, ...]
) -> tuple[Worker, ...]:
    """Workers without the slots in which they are on a step under way, and with what they wore a respirator already."""
    used = _worn(shop, grid, routes)
    return tuple(
        replace(
            worker,
            free=worker.free & ~span(0, max((row.end for row in rows if _works_on(shop, worker, row)), default=0)),
            respirator_used=used.get(worker.key, ()),
        )
        for worker in workers
    )


def _works_on(shop: Shop, worker: Worker, row: UnderWay) -> bool:
    """Whether a worker is on a step; where it needs a lift and none is named, every lift that can is taken to be."""
    if worker.is_person:
        return worker.key in row.done.people
    lifts = {item_id(e, n + 1) for e in shop.equipment_of(Kind.LIFT) for n in range(e.count)}
    named = lifts & set(row.done.tools)
    if named or Kind.LIFT not in row.step.method.tools:
        return worker.key in named
    return lift_skill(shop, shop.unit_by_id[row.done.unit_id].mass_kg) in worker.skills


def _worn(shop: Shop, grid: TimeGrid, routes: Mapping[str, Route]) -> dict[str, tuple[tuple[int, int], ...]]:
    """Slots under a respirator on the days of the plan, by person, from the records; each step rounded up."""
    days = {int(day): int(day - grid.day[0]) for day in grid.day} if len(grid) else {}
    found: dict[str, dict[int, int]] = {}
    for done in shop.done:
        step = next((s for s in routes[done.unit_id].steps if s.name == done.step), None)
        if step is None or not step.method.respirator:
            continue
        for person_id in done.people:
            for ordinal, minutes in minutes_on_shift(shop, shop.person_by_id.get(person_id), done):
                if ordinal in days:
                    by_day = found.setdefault(person_id, {})
                    by_day[days[ordinal]] = by_day.get(days[ordinal], 0) + math.ceil(minutes / shop.site.grid_min - 1e-9)
    return {person_id: tuple(sorted(by_day.items())) for person_id, by_day in found.items()}


def minutes_on_shift(shop: Shop, person: Person | None, done: Done) -> Iterator[tuple[int, float]]:
    """Yield the local days, as ordinals, of a record with the minutes of it in which somebody was on shift."""
    if person is not None:
        for start, end, _ in stretches_between(shop, person, done.started_at, done.ended_at):
            yield from _by_day(shop, start, end)


def _by_day(shop: Shop, start: datetime, end: datetime) -> Iterator[tuple[int, float]]:
    """Split a stretch at local midnight; stretches of work are short enough to touch two days at most."""
    first, last = shop.local(start), shop.local(end)
    midnight = last.replace(hour=0, minute=0, second=0, microsecond=0, fold=0)
    if first.date() < last.date() and end.timestamp() > midnight.timestamp():
        yield first.toordinal(), (midnight.timestamp() - start.timestamp()) / 60
        yield last.toordinal(), (end.timestamp() - midnight.timestamp()) / 60
    else:
        yield first.toordinal(), (end - start).total_seconds() / 60


def busy_pools(shop: Shop, pools: Iterable[Pool], rows: tuple[UnderWay, ...]) -> list[Pool]:
    """Pools with what the steps under way take of them."""
    taken: dict[str, list[tuple[int, int, int]]] = {}
    for row in rows:
        for key, amount, tail in _demands(shop, row):
            taken.setdefault(key, []).append((0, row.end + tail, amount))
    return [replace(pool, taken=(*pool.taken, *taken.get(pool.key, ()))) for pool in pools]


def _demands(shop: Shop, row: UnderWay) -> Iterator[tuple[str, int, int]]:
    """Yield pool, amount and tail of what a step under way takes."""
    kinds = [kind for kind in COUNTED if kind in row.step.method.tools]
    for kind in kinds:
        yield kind.value, 1, change_slots(shop) if kind is Kind.GUN else 0
    air = [air_demand(shop, kind) for kind in kinds]
    for key, amount in (("air mean", sum(mean for mean, _ in air)), ("air peak", sum(peak for _, peak in air))):
        if amount:
            yield key, amount, 0
    film = row.step.film
    if film is not None and shop.product_by_id[film.product_id].supply is Supply.CARTRIDGE:
        yield "warmer", film.packs, 0
    if row.step.step is Step.DISPATCH:
        yield "yard", 1, 0
        yield f"away {shop.unit_by_id[row.done.unit_id].order_id}", 1, 0


def change_slots(shop: Shop) -> int:
    """Slots for which a gun is not free after a step: its change of mixer and product, rounded up."""
    change_min = max((gun.change_min for gun in shop.equipment_of(Kind.GUN)), default=0.0)
    return math.ceil(change_min / shop.site.grid_min - 1e-9)


def busy_bays(classes: Iterable[BayClass], rows: tuple[UnderWay, ...]) -> list[BayClass]:
    """Bay classes with the places of units that leave when their step under way ends; the others stay on in the plan."""
    leaving = [row for row in rows if row.last_of_stay and row.done.bay_id is not None]
    return [
        replace(group, taken=(*group.taken, *((0, row.leaves, 1) for row in leaving if row.done.bay_id in group.bays)))
        for group in classes
    ]
