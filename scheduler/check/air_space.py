"""air_space: no sparks or dust while solvent or a wet film shares the air.

Vapour is in the air while a step that emits it runs and until it has dried, and from a film's start until it is tack
free. What is counted here is time; it clears nobody: the safety data sheets, local codes and gas tests decide.
"""

from collections import defaultdict
from collections.abc import Iterator
from datetime import timedelta

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, both_done
from scheduler.check.moments import minutes
from scheduler.check.sweep import Claim, meetings
from scheduler.shop.methods import Emits

_RULE = "air_space"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield steps that raise dust or sparks while vapour is in the same air."""
    dust: dict[str, list[Claim[Job]]] = defaultdict(list)
    vapour: dict[str, list[Claim[Job]]] = defaultdict(list)
    for job in facts.jobs:
        if job.bay and job.method.emits is Emits.DUST and job.end > facts.from_now():
            dust[job.bay.air_space].extend(Claim(span.start, span.end, 1.0, job) for span in job.spans)
        if job.bay and (job.need.film or job.method.emits is Emits.VAPOUR):
            vapour[job.bay.air_space].append(_vapour(facts, job, job.bay.bay_id))
    for air, claims in dust.items():
        for one, other in meetings(claims, vapour[air]):
            if one.holder and other.holder and one.holder is not other.holder and not both_done(one.holder, other.holder):
                yield _met(facts, air, one, other, one.holder, other.holder)


def _met(facts: Facts, air: str, one: Claim[Job], other: Claim[Job], duster: Job, source: Job) -> Breach:
    start, end = max(one.start, other.start), min(one.end, other.end)
    says = (
        f"{duster.label} raises dust or sparks in the air of {air} on {facts.when(start)}, "
        f"{source.label} gives off vapour there until {facts.when(other.end)}"
    )
    return facts.breach(_RULE, (duster, source), start, minutes(start, end), says)


def _vapour(facts: Facts, job: Job, bay_id: str) -> Claim[Job]:
    """Return the time in which a job puts vapour into the air; a film that never dries gives it off to the last known hour."""
    end = job.end + timedelta(minutes=job.method.dry_min)
    if job.need.film:
        dry = facts.clock.reached(bay_id, job.need.film.product, "tack_free_h", job.end)
        end = max(end, dry or facts.climates.ends)
    return Claim(job.start, end, 1.0, job)
