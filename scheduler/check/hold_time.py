"""hold_time: prepared steel gets its first film before it flash rusts or gets dirty."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.moments import hours


def check(facts: Facts) -> Iterator[Breach]:
    """Yield first films that come too long after a step with a hold time."""
    for jobs in facts.jobs_of.values():
        for place, job in enumerate(jobs):
            until = next((i for i, later in enumerate(jobs) if i > place and later.need.film), None)
            first = None if until is None else jobs[until]
            again = any(later.need.step is job.need.step for later in jobs[place + 1 : until])
            if job.method.hold_h is not None and first is not None and not first.work.done and not again:
                yield from _too_late(facts, job, first, job.method.hold_h)


def _too_late(facts: Facts, job: Job, first: Job, hold_h: float) -> Iterator[Breach]:
    late = hours(job.end, first.start) - hold_h
    if late > 0:
        says = (
            f"{first.label} starts on {facts.when(first.start)}, {late:.1f} h after the {hold_h:g} h "
            f"that the steel holds from the end of {job.work.name} on {facts.when(job.end)}"
        )
        yield facts.breach("hold_time", (job, first), first.start, late, says)
