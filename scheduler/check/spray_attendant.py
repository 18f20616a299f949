"""spray_attendant: nobody sprays alone, a second person stands by through the step."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts


def check(facts: Facts) -> Iterator[Breach]:
    """Yield film steps from cartridges with fewer than two people."""
    for job in facts.planned:
        if job.sprays_cartridges and len(job.people) < 2:
            says = f"{job.label} on {facts.when(job.start)} has {len(job.people) or 'no'} person; nobody sprays alone"
            yield facts.breach("spray_attendant", (job,), job.start, float(2 - len(job.people)), says)
