"""When each unit is on the site: from the start of its first step, receive, to the end of its last, dispatch."""

from collections.abc import Iterator

from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.sweep import Claim, Overload, overloads
from scheduler.shop.methods import Step


def on_site(facts: Facts) -> list[Claim[Job]]:
    """One claim for each unit that the schedule works on, held by its first job.

    A unit whose dispatch is missing stays to the end of its last step; the rule on the order of steps names the gap.
    """
    claims = []
    for jobs in facts.jobs_of.values():
        if jobs:
            first = next((job for job in jobs if job.need.step is Step.RECEIVE), min(jobs, key=lambda job: job.start))
            last = next((job for job in jobs if job.need.step is Step.DISPATCH), max(jobs, key=lambda job: job.end))
            claims.append(Claim(first.start, last.end, 1.0, first))
    return claims


def new_overloads(claims: list[Claim[Job]], most: int) -> Iterator[Overload[Job]]:
    """Yield times with more units than ``most``, unless all of them had come before the plan begins."""
    for overload in overloads(claims, float(most)):
        if any(not job.work.done for job in overload.holders):
            yield overload
