"""step_order: every step that a unit needs is there once, as it is needed, and in the technical order."""

from collections.abc import Iterator
from itertools import pairwise

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.shop.methods import FILM_STEPS, Step

_RULE = "step_order"
_SAME_AREA_M2 = 0.01
_WITH_AREA = FILM_STEPS | {Step.WASH, Step.STRIP, Step.ABRADE, Step.CUT_OUT, Step.WIPE}


def check(facts: Facts) -> Iterator[Breach]:
    """Yield steps that are missing, repeated, not needed, described wrongly or out of order."""
    yield from _strays(facts)
    for unit_id, jobs in facts.jobs_of.items():
        yield from _missing(facts, unit_id, jobs)
        yield from _repeated(facts, jobs)
        yield from _out_of_order(facts, jobs)
    for job in facts.planned:
        yield from _described_wrongly(facts, job)


def _strays(facts: Facts) -> Iterator[Breach]:
    for work in facts.strays:
        if work.unit_id not in facts.routes:
            says = f"{work.unit_id} {work.name}: the shop has no unit {work.unit_id}"
            yield Breach(_RULE, (work.work_id,), None, 1.0, says)
        elif not work.done:
            says = f"{work.unit_id} {work.name} is not a step that the unit needs"
            yield Breach(_RULE, (work.work_id,), None, 1.0, says)


def _missing(facts: Facts, unit_id: str, jobs: tuple[Job, ...]) -> Iterator[Breach]:
    route, there = facts.routes[unit_id], {job.need.name for job in jobs}
    for step in route.steps:
        if step.name not in there:
            yield Breach(_RULE, (f"{unit_id}/{step.name}",), None, 1.0, f"{unit_id} {step.name} is missing from the schedule")
    for name in route.without_method:
        says = f"{unit_id} needs {name}, for which the shop has no method"
        yield Breach(_RULE, (f"{unit_id}/{name}",), None, 1.0, says)


def _repeated(facts: Facts, jobs: tuple[Job, ...]) -> Iterator[Breach]:
    for one, two in pairwise(jobs):
        if one.need is two.need:
            yield facts.breach(_RULE, (one, two), two.start, 1.0, f"{two.label} is in the schedule more than once")


def _out_of_order(facts: Facts, jobs: tuple[Job, ...]) -> Iterator[Breach]:
    for one, two in pairwise(jobs):
        if two.start < one.end and one.need is not two.need and not (one.work.done and two.work.done):
            says = f"{two.label} starts on {facts.when(two.start)}, before {one.work.name} ends on {facts.when(one.end)}"
            yield facts.breach(_RULE, (one, two), two.start, 1.0, says)


def _described_wrongly(facts: Facts, job: Job) -> Iterator[Breach]:
    for said, stands, needed in _descriptions(job):
        if stands != needed:
            says = f"{job.label}: {said} is {stands or 'empty'}, the unit's tables give {needed or 'none'}"
            yield facts.breach(_RULE, (job,), job.start, 1.0, says)
    if job.need.step in _WITH_AREA and abs(job.work.area_m2 - job.need.area_m2) > _SAME_AREA_M2:
        says = f"{job.label}: the area is {job.work.area_m2:g} m², the unit's tables give {job.need.area_m2:g} m²"
        yield facts.breach(_RULE, (job,), job.start, 1.0, says)


def _descriptions(job: Job) -> Iterator[tuple[str, object, object]]:
    """Yield what the schedule says of a step beside what it must say."""
    work, film = job.work, job.need.film
    yield "its id", work.work_id, f"{work.unit_id}/{work.name}"
    yield "its order", work.order_id, job.unit.order_id
    yield "its kind", work.step.value, job.need.step.value
    yield "its product", work.product_id, film.product.product_id if film else None
    if film and film.step is not Step.TOUCH_UP:
        yield "its coat number", " ".join(map(str, work.coat_numbers)), " ".join(map(str, film.numbers))
