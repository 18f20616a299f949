"""What every check reads, prepared once for a shop and a schedule."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from operator import attrgetter

from scheduler.check.breach import Breach
from scheduler.check.climates import Climates
from scheduler.check.cure_clock import CureClock
from scheduler.check.jobs import Job, job_of
from scheduler.check.moments import Stretch
from scheduler.check.packs import PackUse, pack_uses
from scheduler.check.required_steps import Route, required_route
from scheduler.check.site_clock import SiteClock
from scheduler.schedule.schedule import Schedule, Stay, Work
from scheduler.shop.resources import Equipment
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot, Opened


@dataclass(frozen=True)
class Facts(SiteClock):
    """A shop and a schedule, with the work matched to what the units need.

    Attributes
    ----------
    routes : dict
        Needed steps by unit id.
    jobs : tuple of Job
        Work that a unit needs, done or planned, by start.
    strays : tuple of Work
        Work of a unit that the shop does not have, or that its unit does not need.
    climates : Climates
        Hours of each bay, and of the yard.
    clock : CureClock
        Cure of films in the bays.
    """

    schedule: Schedule
    routes: dict[str, Route]
    jobs: tuple[Job, ...]
    strays: tuple[Work, ...]
    climates: Climates
    clock: CureClock

    @cached_property
    def planned(self) -> tuple[Job, ...]:
        """Jobs that are still to be done: what is done is history, which only ``done_work`` judges."""
        return tuple(job for job in self.jobs if not job.work.done)

    @cached_property
    def under_way(self) -> tuple[Job, ...]:
        """Jobs that had begun when the plan begins and had not ended: history that still holds people, tools and places."""
        return tuple(job for job in self.jobs if job.work.done and job.start <= self.from_now() < job.end)

    @cached_property
    def holding(self) -> tuple[Job, ...]:
        """Jobs that hold people and tools within the plan: what is planned, and what is under way when it begins."""
        return (*self.planned, *self.under_way)

    @cached_property
    def jobs_of(self) -> dict[str, tuple[Job, ...]]:
        """Jobs by unit id, in technical order."""
        by_unit: dict[str, list[Job]] = {unit_id: [] for unit_id in self.routes}
        for job in self.jobs:
            by_unit[job.work.unit_id].append(job)
        return {unit_id: tuple(sorted(jobs, key=lambda job: job.need.place)) for unit_id, jobs in by_unit.items()}

    @cached_property
    def stays_in_bays(self) -> dict[tuple[str, str], tuple[Job, ...]]:
        """Jobs of each stay by unit id and stage, in technical order; the yard is no stay."""
        groups: dict[tuple[str, str], list[Job]] = defaultdict(list)
        for unit_id, jobs in self.jobs_of.items():
            for job in jobs:
                if job.need.stage != "yard":
                    groups[unit_id, job.need.stage].append(job)
        return {key: tuple(group) for key, group in groups.items()}

    @cached_property
    def equipment_by_id(self) -> dict[str, Equipment]:
        """Rows of equipment by id."""
        return {row.equipment_id: row for row in self.shop.equipment}

    @cached_property
    def lot_by_id(self) -> dict[str, Lot]:
        """Lots by id."""
        return {lot.lot_id: lot for lot in self.shop.lots}

    @cached_property
    def opened_by_id(self) -> dict[str, Opened]:
        """Opened packs by id."""
        return {pack.pack_id: pack for pack in self.shop.opened}

    @cached_property
    def pack_uses(self) -> dict[str, tuple[PackUse, ...]]:
        """Uses of every pack by its id, in the order of time."""
        return pack_uses(self.planned)

    def stay_times(self, stay: Stay) -> Stretch:
        """Return the time of a stay, in UTC."""
        return Stretch(self.utc(stay.start), self.utc(stay.end))

    def breach(self, rule: str, jobs: Iterable[Job], at: datetime | None, amount: float | None, says: str) -> Breach:
        """Return a breach by jobs at an instant."""
        ids = tuple(job.work.work_id for job in jobs)
        return Breach(rule, ids, None if at is None else self.local(at), amount, says)


def prepare(shop: Shop, schedule: Schedule) -> Facts:
    """Match the schedule's work to what each unit needs.

    Parameters
    ----------
    shop : Shop
        A valid one.
    schedule : Schedule
        Of any quality.
    """
    routes = {unit.unit_id: required_route(shop, unit.unit_id) for unit in shop.units}
    needs = {(unit_id, step.name): step for unit_id, route in routes.items() for step in route.steps}
    known = [work for work in schedule.work if (work.unit_id, work.name) in needs]
    jobs = sorted((job_of(shop, work, needs[work.unit_id, work.name]) for work in known), key=attrgetter("start"))
    strays = tuple(work for work in schedule.work if (work.unit_id, work.name) not in needs)
    climates = Climates(shop)
    return Facts(shop, schedule, routes, tuple(jobs), strays, climates, CureClock(shop, climates.of_bay))
