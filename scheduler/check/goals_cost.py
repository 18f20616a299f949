"""The goal of money: overtime, and rent of equipment from its first to its last day of use."""

from collections import defaultdict
from datetime import datetime

from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, piece_of
from scheduler.check.moments import Stretch, shared_min


def cost(facts: Facts) -> float:
    """Return overtime and rent of the planned work, rounded to two decimals."""
    extra = {who: tuple(s for s, overtime in stretches if overtime) for who, stretches in facts.shifts.items()}
    overtime_h = sum(_overtime_min(job, extra) for job in facts.planned) / 60.0
    return round(overtime_h * facts.shop.site.overtime_cost_per_h + _rent(facts), 2)


def _overtime_min(job: Job, extra: dict[str, tuple[Stretch, ...]]) -> float:
    """Return the person-minutes of a job in overtime stretches of the people on it."""
    return sum(shared_min(span, extra.get(person_id, ())) for person_id in job.people for span in job.spans)


def _rent(facts: Facts) -> float:
    """Return the rent of every piece that work names: calendar days from the first day of use to the last, both counted."""
    used: dict[tuple[str, int], list[datetime]] = defaultdict(list)
    rented = {row.equipment_id: row.rent_per_day for row in facts.shop.equipment if row.rent_per_day > 0}
    for job in facts.planned if rented else ():
        for tool in job.work.tools:
            used[piece_of(tool)] += [job.start, job.end]
        for load in job.work.loads:
            used[piece_of(load.equipment_id)] += [facts.utc(load.loaded_at), job.end]
    total = 0.0
    for (equipment_id, _), moments in used.items():
        first, last = (facts.local(moment).date() for moment in (min(moments), max(moments)))
        total += rented.get(equipment_id, 0.0) * ((last - first).days + 1)
    return total
