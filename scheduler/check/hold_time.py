"""hold_time: prepared steel gets its first film before it flash rusts or gets dirty."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.moments import hours
from scheduler.check.rest import stopped_first
from scheduler.shop.methods import prepares_again


def check(facts: Facts) -> Iterator[Breach]:
    """Yield first films that come too long after a step with a hold time."""
    for jobs in facts.jobs_of.values():
        rest_of = {job.need.name: job.need.rest_of for job in jobs}
        for place, job in enumerate(jobs):
            if job.method.hold_h is not None:
                for film in _first_on(jobs, place, rest_of):
                    yield from _too_late(facts, job, film, job.method.hold_h) if not film.work.done else ()


def _first_on(jobs: tuple[Job, ...], place: int, rest_of: dict[str, str]) -> Iterator[Job]:
    """Yield the first film after a step and the rests of that film, as far as the step is not done again before.

    The rest of the step itself is no second time.
    """
    later = jobs[place + 1 :]
    again = (i for i, job in enumerate(later) if prepares_again(job.need.step, jobs[place].need.step) and not job.need.rest_of)
    films = [job for job in later[: next(again, None)] if job.need.film]
    for film in films:
        if stopped_first(rest_of, film.need.name) == stopped_first(rest_of, films[0].need.name):
            yield film


def _too_late(facts: Facts, job: Job, first: Job, hold_h: float) -> Iterator[Breach]:
    late = hours(job.end, first.start) - hold_h
    if late > 0:
        says = (
            f"{first.label} starts on {facts.when(first.start)}, {late:.1f} h after the {hold_h:g} h "
            f"that the steel holds from the end of {job.work.name} on {facts.when(job.end)}"
        )
        yield facts.breach("hold_time", (job, first), first.start, late, says)
