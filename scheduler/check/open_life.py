"""open_life: an opened pack is used once, whole, and within its open life."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import timedelta
from math import floor

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.shop.stock import Opened

_RULE = "open_life"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield opened packs that are used twice or after their day."""
    takers: dict[str, list[tuple[Job, int]]] = defaultdict(list)
    for job in facts.planned:
        for draw in job.work.draws:
            if draw.source == "opened" and draw.source_id in facts.opened_by_id:
                takers[draw.source_id].append((job, draw.packs))
                yield from _too_old(facts, job, facts.opened_by_id[draw.source_id])
    for pack_id, uses in takers.items():
        taken, jobs = sum(count for _, count in uses), [job for job, _ in uses]
        if taken > 1:
            says = f"the opened pack {pack_id} is drawn {taken} times, it is one pack"
            yield facts.breach(_RULE, jobs, jobs[-1].start, None, says)


def _too_old(facts: Facts, job: Job, pack: Opened) -> Iterator[Breach]:
    lot = facts.lot_by_id.get(pack.lot_id)
    if lot is None:
        return
    life_d = floor(facts.shop.product_by_id[lot.product_id].open_life_d)
    last = min(pack.opened_on + timedelta(days=life_d), lot.expires_on)
    late_d = (facts.local(job.end).date() - last).days
    if late_d > 0:
        says = f"{job.label} on {facts.when(job.start)} uses the opened pack {pack.pack_id}, whose last day is {last:%d %b}"
        yield facts.breach(_RULE, (job,), job.end, float(late_d), says)
