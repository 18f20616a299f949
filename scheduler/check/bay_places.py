"""bay_places: a bay never holds more units than it has places, each from its move in to its move out, and none while it is shut.

One that is shut when the plan begins is not emptied for that: what stands in it stays until it opens.
"""

from collections import defaultdict
from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.moments import minutes
from scheduler.check.sweep import Claim, overlaps
from scheduler.schedule.schedule import Stay
from scheduler.shop.calendar import Shut
from scheduler.shop.methods import Step

_RULE = "bay_places"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield stays without a place, two units in one place, and stays that differ from the work."""
    listed: dict[tuple[str, str], list[Stay]] = defaultdict(list)
    for stay in facts.schedule.stays:
        listed[stay.unit_id, stay.stage].append(stay)
    for key, jobs in facts.stays_in_bays.items():
        yield from _unlike_work(facts, key, jobs, listed.pop(key, []))
    for (unit_id, stage), stays in listed.items():
        if unit_id not in facts.routes or facts.utc(stays[0].end) > facts.from_now():
            says = f"{unit_id} stays in {stays[0].bay_id} for {stage}, but the schedule has no such work"
            yield Breach(_RULE, _ids(stays[0]), facts.local(facts.utc(stays[0].start)), None, says)
    yield from _crowded(facts)
    for stay in facts.schedule.stays:
        yield from _shut_in(facts, stay)


def _unlike_work(facts: Facts, key: tuple[str, str], jobs: tuple[Job, ...], stays: list[Stay]) -> Iterator[Breach]:
    if all(job.work.done for job in jobs) and not stays:
        return
    if len(stays) != 1:
        says = f"{key[0]} has {len(stays) or 'no'} stays for {key[1]}, it needs one"
        yield facts.breach(_RULE, jobs, jobs[0].start, None, says)
        return
    stay, time = stays[0], facts.stay_times(stays[0])
    if stay.bay_id != jobs[0].work.bay_id:
        says = f"{key[0]} has its place for {key[1]} in {stay.bay_id}, but is brought into {jobs[0].work.bay_id or 'the yard'}"
        yield facts.breach(_RULE, jobs[:1], time.start, None, says)
    if (time.start, time.end) != (jobs[0].start, jobs[-1].end):
        says = (
            f"{key[0]} has its place for {key[1]} from {facts.when(time.start)} to {facts.when(time.end)}, "
            f"but is there from {facts.when(jobs[0].start)} to {facts.when(jobs[-1].end)}"
        )
        yield facts.breach(_RULE, (jobs[0], jobs[-1]), time.start, None, says)


def _crowded(facts: Facts) -> Iterator[Breach]:
    """Yield places that a bay does not have, and two stays in one place at once."""
    in_place: dict[tuple[str, int], list[Claim[Stay]]] = defaultdict(list)
    now = [stay for stay in facts.schedule.stays if facts.utc(stay.end) > facts.from_now()]
    for stay in now:
        bay, time = facts.shop.bay_by_id.get(stay.bay_id), facts.stay_times(stay)
        if bay is None or stay.place > bay.places:
            has = f"has {bay.places}" if bay else "is not a bay of the shop"
            says = f"{stay.unit_id} has place {stay.place} of {stay.bay_id} on {facts.when(time.start)}, which {has}"
            yield Breach(_RULE, _ids(stay), facts.local(time.start), 1.0, says)
        else:
            in_place[stay.bay_id, stay.place].append(Claim(time.start, time.end, 1.0, stay))
    for (bay_id, place), claims in in_place.items():
        for one, two in overlaps(claims):
            yield _two_in_one(facts, f"place {place} of {bay_id}", one, two)


def _shut_in(facts: Facts, stay: Stay) -> Iterator[Breach]:
    """Yield the time that a unit stands in a bay that is shut by then."""
    time = facts.stay_times(stay)
    for shut in facts.closed.get((Shut.BAY, stay.bay_id), ()):
        inside = minutes(max(time.start, shut.start), min(time.end, shut.end))
        if shut.start > facts.from_now() and inside > 0:
            says = (
                f"{stay.unit_id} stands in {stay.bay_id}, which is closed from {facts.when(shut.start)} to {facts.when(shut.end)}"
            )
            yield Breach(_RULE, _ids(stay), facts.local(shut.start), 1.0, says)


def _two_in_one(facts: Facts, place: str, one: Claim[Stay], two: Claim[Stay]) -> Breach:
    first, second = (claim.holder.unit_id if claim.holder else "" for claim in (one, two))
    says = f"{second} comes into {place} on {facts.when(two.start)}, where {first} stays until {facts.when(one.end)}"
    ids = tuple(name for claim in (one, two) if claim.holder for name in _ids(claim.holder))
    return Breach(_RULE, ids, facts.local(two.start), 1.0, says)


def _ids(stay: Stay) -> tuple[str, ...]:
    """Return the work that began a stay."""
    return (f"{stay.unit_id}/{Step.MOVE_IN}-{stay.stage}",)
