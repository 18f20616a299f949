"""The goal of money: overtime, and rent of equipment from its first to its last day of use."""

from collections import defaultdict
from datetime import datetime

from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, piece_of
from scheduler.check.moments import minutes


def cost(facts: Facts) -> float:
    """Return overtime and rent of the planned work, rounded to two decimals."""
    overtime_h = sum(_overtime_min(facts, job) for job in facts.planned) / 60.0
    return round(overtime_h * facts.shop.site.overtime_cost_per_h + _rent(facts), 2)


def _overtime_min(facts: Facts, job: Job) -> float:
    """Return the person-minutes of a job in overtime stretches of the people on it."""
    return sum(
        max(0.0, minutes(max(span.start, stretch.start), min(span.end, stretch.end)))
        for person_id in job.people
        for stretch, overtime in facts.shifts.get(person_id, ())
        if overtime
        for span in job.spans
    )


def _rent(facts: Facts) -> float:
    """Return the rent of every piece that work names: calendar days from the first day of use to the last, both counted."""
    used: dict[tuple[str, int], list[datetime]] = defaultdict(list)
    rented = {row.equipment_id: row.rent_per_day for row in facts.shop.equipment if row.rent_per_day > 0}
    for job in facts.planned if rented else ():
        for tool in job.work.tools:
            used[piece_of(tool)] += [job.start, job.end]
        for load in job.work.loads:
            used[load.equipment_id, 1] += [facts.utc(load.loaded_at), job.end]
    total = 0.0
    for (equipment_id, _), moments in used.items():
        first, last = (facts.local(moment).date() for moment in (min(moments), max(moments)))
        total += rented.get(equipment_id, 0.0) * ((last - first).days + 1)
    return total
