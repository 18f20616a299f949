"""What dry_to_handle and return_to_service share: a step that waits until the last films of a unit have come so far."""

from collections.abc import Iterable, Iterator

from scheduler.check.breach import Breach
from scheduler.check.cure_clock import NEARLY, Clock
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.moments import hours


def too_early(facts: Facts, rule: str, step: Job, films: Iterable[Job], clock: Clock, fit: str) -> Iterator[Breach]:
    """Yield the films that are not ``fit`` when a step starts, in the climate of the bay where they were sprayed.

    Parameters
    ----------
    facts : Facts
    rule : str
        Name of the rule that asks.
    step : Job
        The step that must wait.
    films : iterable of Job
        Film steps that it waits for.
    clock : Clock
        Time of the product's sheet.
    fit : str
        What the film must be, in words.
    """
    for job in films:
        if job.bay is None or job.need.film is None:
            continue
        bay_id, product = job.bay.bay_id, job.need.film.product
        if facts.clock.share(bay_id, product, clock, job.end, step.start) >= 1.0 - NEARLY:
            continue
        ready = facts.clock.reached(bay_id, product, clock, job.end)
        early = None if ready is None else hours(step.start, ready)
        wait = "after the hours that are known" if ready is None else f"{hours(job.end, ready):.1f} h after its end"
        how = "" if early is None else f"{early:.1f} h "
        says = f"{step.label} starts on {facts.when(step.start)}, {how}before {job.work.name} is {fit} ({wait})"
        yield facts.breach(rule, (job, step), step.start, early, says)
