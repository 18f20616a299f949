"""pinned_work: what a person has fixed stays where it is."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.moments import minutes
from scheduler.shop.fixed import Pinned

_RULE = "pinned_work"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield pinned steps that start at another time, are in another bay or are not there."""
    jobs = {(job.work.unit_id, job.work.name): job for job in facts.jobs}
    for pin in facts.shop.pinned:
        job = jobs.get((pin.unit_id, pin.step))
        if job is None:
            says = f"{pin.unit_id} {pin.step} is fixed for {facts.when(facts.utc(pin.start_at))}, but not in the schedule"
            yield Breach(_RULE, (f"{pin.unit_id}/{pin.step}",), facts.local(facts.utc(pin.start_at)), None, says)
        elif not job.work.done:
            yield from _moved(facts, pin, job)


def _moved(facts: Facts, pin: Pinned, job: Job) -> Iterator[Breach]:
    fixed = facts.utc(pin.start_at)
    off = minutes(fixed, job.start)
    if off != 0:
        says = f"{job.label} is fixed for {facts.when(fixed)}, the schedule starts it on {facts.when(job.start)}"
        yield facts.breach(_RULE, (job,), job.start, abs(off), says)
    if pin.bay_id is not None and pin.bay_id != job.work.bay_id:
        says = f"{job.label} is fixed in {pin.bay_id}, the schedule has it in {job.work.bay_id or 'the yard'}"
        yield facts.breach(_RULE, (job,), job.start, None, says)
