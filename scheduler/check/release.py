"""release: no work on a unit before it is available, and it leaves when it must."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.moments import hours


def check(facts: Facts) -> Iterator[Breach]:
    """Yield units that are worked on too early or leave too late."""
    for jobs in facts.jobs_of.values():
        planned = [job for job in jobs if not job.work.done]
        if not planned:
            continue
        first, last = min(planned, key=lambda job: job.start), max(planned, key=lambda job: job.end)
        early = hours(first.start, facts.utc(first.unit.available_from))
        if early > 0:
            says = f"{first.label} starts on {facts.when(first.start)}, {early:.1f} h before the unit is available"
            yield facts.breach("release", (first,), first.start, early, says)
        if last.unit.must_leave_by is not None:
            late = hours(facts.utc(last.unit.must_leave_by), last.end)
            if late > 0:
                says = f"{last.label} ends on {facts.when(last.end)}, {late:.1f} h after the unit must have left"
                yield facts.breach("release", (last,), last.end, late, says)
