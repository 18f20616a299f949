"""return_to_service: a unit is not handed back before its coating is fit for service.

The films cure in the climate of their bay for the whole time, also once the unit has left it.
"""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.cured_enough import too_early
from scheduler.check.facts import Facts
from scheduler.check.film_stacks import last_films
from scheduler.shop.methods import Step


def check(facts: Facts) -> Iterator[Breach]:
    """Yield dispatches of units whose coating is not fit."""
    for jobs in facts.jobs_of.values():
        for out in jobs:
            if out.need.step is Step.DISPATCH and not out.work.done:
                yield from too_early(facts, "return_to_service", out, last_films(jobs), "service_h", "fit for service")
