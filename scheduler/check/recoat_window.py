"""recoat_window: each coat after the minimum and before the maximum at the steel temperature of those hours."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.cure_clock import NEARLY
from scheduler.check.facts import Facts
from scheduler.check.film_stacks import film_pairs
from scheduler.check.jobs import Job
from scheduler.check.moments import hours
from scheduler.check.needed_films import Film
from scheduler.check.rest import stopped_first
from scheduler.check.wet_edge import goes_on_wet
from scheduler.shop.methods import Step
from scheduler.shop.resources import Bay

_RULE = "recoat_window"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield coats that come too soon or too late on the one below."""
    for jobs in facts.jobs_of.values():
        for one, two in film_pairs(jobs):
            if one.bay is not None and one.need.film is not None and not two.work.done:
                if not goes_on_wet(one, two):
                    yield from _too_soon(facts, one, two, one.need.film, one.bay)
                if not _abraded_between(jobs, one, two):
                    yield from _too_late(facts, one, two, one.need.film, one.bay)


def _abraded_between(jobs: tuple[Job, ...], one: Job, two: Job) -> bool:
    """Whether what the second of two films covers is abraded after the first, so that it holds whenever it comes.

    What is abraded is the area of the next film: it is the second, or the second is what was left of it.
    """
    rest_of = {job.need.name: job.need.rest_of for job in jobs}
    between = [job for job in jobs if one.need.place < job.need.place < two.need.place]
    abraded = [i for i, job in enumerate(between) if job.need.step is Step.ABRADE]
    films = [job.need.name for i, job in enumerate(between) if job.need.film and abraded and i > abraded[-1]]
    return bool(abraded) and all(stopped_first(rest_of, name) == stopped_first(rest_of, two.need.name) for name in films)


def _too_soon(facts: Facts, one: Job, two: Job, film: Film, bay: Bay) -> Iterator[Breach]:
    if facts.clock.share(bay.bay_id, film.product, "recoat_min_h", one.end, two.start) >= 1.0 - NEARLY:
        return
    ready = facts.clock.reached(bay.bay_id, film.product, "recoat_min_h", one.end)
    if ready is None:
        says = f"{two.label} starts on {facts.when(two.start)}; {one.work.name} is not ready for it in the hours that are known"
        yield facts.breach(_RULE, (one, two), two.start, None, says)
        return
    early, wait = hours(two.start, ready), hours(one.end, ready)
    says = (
        f"{two.label} starts on {facts.when(two.start)}, {early:.1f} h before its recoat minimum of {one.work.name} "
        f"({wait:.1f} h at {facts.clock.steel_c(bay.bay_id, one.end, ready):.0f} °C)"
    )
    yield facts.breach(_RULE, (one, two), two.start, early, says)


def _too_late(facts: Facts, one: Job, two: Job, film: Film, bay: Bay) -> Iterator[Breach]:
    if facts.clock.share(bay.bay_id, film.product, "recoat_max_h", one.end, two.start) <= 1.0 + NEARLY:
        return
    shut = facts.clock.reached(bay.bay_id, film.product, "recoat_max_h", one.end) or two.start
    late, window = hours(shut, two.start), hours(one.end, shut)
    says = (
        f"{two.label} starts on {facts.when(two.start)}, {late:.1f} h after its recoat maximum of {one.work.name} "
        f"({window:.1f} h at {facts.clock.steel_c(bay.bay_id, one.end, shut):.0f} °C)"
    )
    yield facts.breach(_RULE, (one, two), two.start, late, says)
