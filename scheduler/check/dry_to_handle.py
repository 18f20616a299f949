"""dry_to_handle: a coated unit stays in its bay until every film on top can be handled."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.cured_enough import too_early
from scheduler.check.facts import Facts
from scheduler.check.film_stacks import last_films
from scheduler.shop.methods import Step


def check(facts: Facts) -> Iterator[Breach]:
    """Yield moves out of a bay with a film of that stay that is too soft."""
    for jobs in facts.stays_in_bays.values():
        for out in jobs:
            if out.need.step is Step.MOVE_OUT and not out.work.done:
                yield from too_early(facts, "dry_to_handle", out, last_films(jobs), "handle_h", "dry to handle")
