"""crew_skills: every attended step has named people with the skill, each in one place at a time."""

from collections import Counter, defaultdict
from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, both_done
from scheduler.check.sweep import Claim, overlaps

_RULE = "crew_skills"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield steps without the people they need, people without the skill and people in two places at once."""
    for job in facts.planned:
        yield from _heads(facts, job)
        yield from _people(facts, job)
    yield from _in_two_places(facts)


def _heads(facts: Facts, job: Job) -> Iterator[Breach]:
    there = Counter(who.skill for who in job.work.people)
    for skill, count in job.method.crew_needs():
        if there[skill] < count:
            says = f"{job.label} on {facts.when(job.start)} has {there[skill]} of {count} people for {skill}"
            yield facts.breach(_RULE, (job,), job.start, float(count - there[skill]), says)


def _people(facts: Facts, job: Job) -> Iterator[Breach]:
    for who in job.work.people:
        person = facts.shop.person_by_id.get(who.person_id)
        if person is None or who.skill not in person.skills:
            fault = "who is not in the crew" if person is None else f"who does not have the skill {who.skill}"
            says = f"{job.label} on {facts.when(job.start)} names {who.person_id}, {fault}"
            yield facts.breach(_RULE, (job,), job.start, 1.0, says)
    for person_id, times in Counter(who.person_id for who in job.work.people).items():
        if times > 1:
            says = f"{job.label} on {facts.when(job.start)} counts {person_id} {times} times"
            yield facts.breach(_RULE, (job,), job.start, float(times - 1), says)


def _in_two_places(facts: Facts) -> Iterator[Breach]:
    busy: dict[str, list[Claim[Job]]] = defaultdict(list)
    for job in facts.holding:
        for person_id in job.people:
            busy[person_id].extend(Claim(span.start, span.end, 1.0, job) for span in job.spans)
    for person_id, claims in busy.items():
        for one, two in overlaps(claims):
            if one.holder and two.holder and one.holder is not two.holder and not both_done(one.holder, two.holder):
                says = f"{person_id} is on {one.holder.label} and on {two.holder.label} at once on {facts.when(two.start)}"
                yield facts.breach(_RULE, (one.holder, two.holder), two.start, 1.0, says)
