"""Take the gaps out of a stay: what was placed as early as it goes is pulled towards what comes after it.

The end of the stay stays where it is. The place, and the yard before it, are taken later.
"""

from bisect import bisect_right

from scheduler.activities.masks import below, highest
from scheduler.search.chain import Chain
from scheduler.search.crew_choice import is_staffed
from scheduler.search.steps import Segment, Step

TRIES = 4


def tighten(chain: Chain, segment: Segment) -> None:
    """Pull the steps of a placed stay up to its first film as late as the steps after them allow."""
    steps = chain.route.steps[segment.first : segment.last]
    films = (step.offset for step in steps if step.curved)
    for step in reversed(steps[: next(films, segment.last) - segment.first]):
        last = _last_start(chain, step, segment.last)
        if last > chain.at[step.offset]:
            start = _latest(chain, step, last)
            chain.at[step.offset], chain.ends[step.offset] = start, start + step.slots


def _last_start(chain: Chain, step: Step, placed: int) -> int:
    """Last start that the steps after this one, which are placed up to an offset, and the waits before it allow."""
    offset, classes = step.offset, chain.classes
    end = chain.at[offset + 1]
    for then, earliest in step.leads:
        curve = earliest.get(classes[offset])
        if curve is not None:
            if then > placed:
                return -1
            end = min(end, bisect_right(curve, chain.at[then]) - 1)
    start = end - step.slots
    for wait in step.waits:
        curve = wait.latest.get(classes[wait.first])
        if curve is not None:
            start = min(start, curve[chain.ends[wait.first]])
    return start


def _latest(chain: Chain, step: Step, last: int) -> int:
    """Latest start up to ``last`` at which everything is there for a step; the one that it has if there is no other."""
    here = chain.at[step.offset]
    mask = (chain.equipped(step, chain.classes[step.offset]) & below(last + 1)) >> here + 1
    tries = 0
    while mask and tries < TRIES:
        start = here + 1 + highest(mask)
        if is_staffed(chain.state, step, start):
            return start
        mask ^= 1 << start - here - 1
        tries += not chain.looked_at(step)
    return here
