"""Which films of a unit lie on each other, and which are last on some part of it."""

from collections import defaultdict
from itertools import pairwise

from scheduler.check.jobs import Job
from scheduler.check.needed_films import Part


def stacks(jobs: tuple[Job, ...]) -> dict[Part, list[Job]]:
    """Film jobs on each part of a surface, the first film first.

    Parameters
    ----------
    jobs : tuple of Job
        Of one unit, in technical order.
    """
    on: dict[Part, list[Job]] = defaultdict(list)
    for job in jobs:
        for part in job.need.film.parts if job.need.film else ():
            on[part].append(job)
    return dict(on)


def last_films(jobs: tuple[Job, ...]) -> list[Job]:
    """Film jobs that are the last on some part, each once, in technical order."""
    last = {id(stack[-1]) for stack in stacks(jobs).values()}
    return [job for job in jobs if id(job) in last]


def film_pairs(jobs: tuple[Job, ...]) -> list[tuple[Job, Job]]:
    """Pairs of film jobs of which the second follows the first directly on some part, each pair once."""
    pairs = {(id(a), id(b)): (a, b) for stack in stacks(jobs).values() for a, b in pairwise(stack)}
    return list(pairs.values())
