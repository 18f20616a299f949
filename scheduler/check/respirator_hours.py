"""respirator_hours: nobody works longer under a respirator in a day than their limit."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.moments import Stretch, minutes_by_day
from scheduler.shop.day_words import day_text
from scheduler.shop.working_time import stretches_between

_RULE = "respirator_hours"
_EXACT_MIN = 1e-6


def check(facts: Facts) -> Iterator[Breach]:
    """Yield people and days with too many minutes under a respirator."""
    worn: dict[tuple[str, date], float] = defaultdict(float)
    jobs: dict[tuple[str, date], list[Job]] = defaultdict(list)
    for job in facts.planned:
        for day, minutes in _days(facts, job) if job.method.respirator else ():
            for person_id in job.people:
                worn[person_id, day] += minutes
                jobs[person_id, day].append(job)
    for person_id, day, minutes in _worn_already(facts):
        if (person_id, day) in worn:
            worn[person_id, day] += minutes
    for (person_id, day), total in worn.items():
        person = facts.shop.person_by_id.get(person_id)
        most = 60.0 * person.respirator_h if person else total
        if total - most > _EXACT_MIN:
            says = f"{person_id} is {total:.0f} min under a respirator on {day_text(day)}, the limit is {most:.0f} min"
            yield facts.breach(_RULE, jobs[person_id, day], jobs[person_id, day][0].start, total - most, says)


def _worn_already(facts: Facts) -> Iterator[tuple[str, date, float]]:
    """Yield person, day and minutes of what is done, or under way, as far as the person was on shift."""
    for job in facts.jobs:
        if job.work.done and job.method.respirator:
            for who in job.people:
                person = facts.shop.person_by_id.get(who)
                shifts = stretches_between(facts.shop, person, job.start, job.end) if person else ()
                for start, end, _ in shifts:
                    for day, minutes in minutes_by_day(Stretch(facts.utc(start), facts.utc(end)), facts.shop.site.tz):
                        yield who, day, minutes


def _days(facts: Facts, job: Job) -> Iterator[tuple[date, float]]:
    for span in job.spans:
        yield from minutes_by_day(span, facts.shop.site.tz)
