"""bay_fit: the bay allows the step, and the unit is in it and fits by size and mass."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.shop.resources import Bay
from scheduler.shop.unit import Unit

_RULE = "bay_fit"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield steps in a place that cannot take them, and units that are too big for their bay."""
    for job in facts.planned:
        yield from _wrong_place(facts, job)
    for jobs in facts.stays_in_bays.values():
        planned = [job for job in jobs if not job.work.done]
        yield from _elsewhere(facts, jobs, planned)
        yield from _too_big(facts, planned)


def _wrong_place(facts: Facts, job: Job) -> Iterator[Breach]:
    bay_id, in_yard = job.work.bay_id, job.need.stage == "yard"
    says = ""
    if in_yard and bay_id is not None:
        says = f"{job.label} is in {bay_id}; it is work of the yard"
    elif not in_yard and job.bay is None:
        says = f"{job.label} is in {bay_id or 'the yard'}; the shop has no such bay" if bay_id else f"{job.label} has no bay"
    elif job.bay is not None and not in_yard and not job.bay.takes(job.need.stage):
        says = f"{job.label} is in {bay_id}, which is for {' and '.join(job.bay.stages)}, not for {job.need.stage}"
    if says:
        yield facts.breach(_RULE, (job,), job.start, None, says)


def _elsewhere(facts: Facts, jobs: tuple[Job, ...], planned: list[Job]) -> Iterator[Breach]:
    """Yield steps in another bay than the one that the unit was brought into."""
    for job in planned:
        if job.work.bay_id != jobs[0].work.bay_id:
            says = f"{job.label} is in {job.work.bay_id} on {facts.when(job.start)}, but the unit is in {jobs[0].work.bay_id}"
            yield facts.breach(_RULE, (jobs[0], job), job.start, None, says)


def _too_big(facts: Facts, planned: list[Job]) -> Iterator[Breach]:
    """Yield each measure by which a unit is too big, once for each bay of the stay."""
    for job in {job.bay.bay_id: job for job in reversed(planned) if job.bay}.values():
        for what, has, most, unit in _measures(job.unit, job.bay) if job.bay else ():
            if has > most:
                says = f"{job.label}: {what} {has:g} {unit}, {job.work.bay_id} takes at most {most:g} {unit}"
                yield facts.breach(_RULE, (job,), job.start, has - most, says)


def _measures(unit: Unit, bay: Bay) -> tuple[tuple[str, float, float, str], ...]:
    """Return each measure of a unit with the bay's; a unit may be turned, so long goes with long."""
    return (
        ("long side", max(unit.length_m, unit.width_m), max(bay.max_length_m, bay.max_width_m), "m"),
        ("short side", min(unit.length_m, unit.width_m), min(bay.max_length_m, bay.max_width_m), "m"),
        ("height", unit.height_m, bay.max_height_m, "m"),
        ("mass", unit.mass_kg, bay.max_mass_kg, "kg"),
    )
