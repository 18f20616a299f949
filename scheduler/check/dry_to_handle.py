"""dry_to_handle: a coated unit stays in its bay until every film on top can be handled."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.cured_enough import too_early
from scheduler.check.facts import Facts
from scheduler.check.film_stacks import last_films
from scheduler.shop.methods import Step

_CUTS = frozenset({Step.ABRADE, Step.CUT_OUT})


def check(facts: Facts) -> Iterator[Breach]:
    """Yield moves out of a bay with a film of that stay that is too soft, and films that are cut or abraded too soon."""
    for jobs in facts.stays_in_bays.values():
        for out in jobs:
            if out.need.step is Step.MOVE_OUT and not out.work.done:
                yield from too_early(facts, "dry_to_handle", out, last_films(jobs), "handle_h", "dry to handle")
    for jobs in facts.jobs_of.values():
        for place, job in enumerate(jobs):
            films = [before for before in jobs[:place] if before.need.film]
            if job.need.step in _CUTS and films and not job.work.done:
                yield from too_early(facts, "dry_to_handle", job, films[-1:], "handle_h", "hard enough to be cut or abraded")
