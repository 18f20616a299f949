"""lifting: gear that can lift the unit is free for every move."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, both_done
from scheduler.check.sweep import overlaps
from scheduler.check.tools import held, pieces, unknown_tools
from scheduler.shop.methods import MOVE_STEPS
from scheduler.shop.resources import Kind

_RULE = "lifting"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield moves without gear, with gear that is too weak, and gear in two moves at once."""
    for job in facts.planned:
        if Kind.LIFT.value in job.method.tools:
            yield from _gear(facts, job)
        if job.need.step in MOVE_STEPS:
            for tool in unknown_tools(facts, job):
                says = f"{job.label} on {facts.when(job.start)} names {tool}, which the shop does not have"
                yield facts.breach(_RULE, (job,), job.start, None, says)
    for piece, claims in held(facts, Kind.LIFT).items():
        for one, two in overlaps(claims):
            if one.holder and two.holder and not both_done(one.holder, two.holder):
                yield _twice(facts, piece[0], one.holder, two.holder)


def _gear(facts: Facts, job: Job) -> Iterator[Breach]:
    gear = pieces(facts, job, Kind.LIFT)
    if len(gear) != 1:
        says = f"{job.label} on {facts.when(job.start)} has {len(gear) or 'no'} lifts, it needs one"
        yield facts.breach(_RULE, (job,), job.start, float(1 - len(gear)), says)
    for row, _ in gear:
        most_kg, has_kg = row.lift_kg or 0.0, job.unit.mass_kg
        if most_kg < has_kg:
            says = f"{job.label} on {facts.when(job.start)}: {row.equipment_id} lifts {most_kg:g} kg, the unit has {has_kg:g} kg"
            yield facts.breach(_RULE, (job,), job.start, has_kg - most_kg, says)


def _twice(facts: Facts, equipment_id: str, one: Job, two: Job) -> Breach:
    says = f"{equipment_id} is wanted by {one.label} and {two.label} at once on {facts.when(two.start)}"
    return facts.breach(_RULE, (one, two), two.start, 1.0, says)
