"""flash_off: water has dried and solvent has left the surface before the next step of the unit."""

from collections.abc import Iterator
from itertools import pairwise

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.moments import minutes
from scheduler.check.wet_edge import goes_on_wet


def check(facts: Facts) -> Iterator[Breach]:
    """Yield steps that start too soon after one that must dry."""
    for jobs in facts.jobs_of.values():
        for one, two in pairwise(jobs):
            short = one.method.dry_min - minutes(one.end, two.start)
            goes_on = two.need.rest_of == one.need.name and not one.need.film  # what was stopped may be wetted again at once
            goes_on |= goes_on_wet(one, two)
            if one.method.dry_min > 0 and short > 0 and not two.work.done and not goes_on:
                says = (
                    f"{two.label} starts on {facts.when(two.start)}, {short:.0f} min before {one.work.name} "
                    f"has dried ({one.method.dry_min:g} min from {facts.when(one.end)})"
                )
                yield facts.breach("flash_off", (one, two), two.start, short, says)
