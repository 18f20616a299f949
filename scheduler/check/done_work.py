"""done_work: what has happened is history and stays as recorded."""

from collections import defaultdict
from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.moments import minutes
from scheduler.schedule.schedule import Work
from scheduler.shop.fixed import Done

_RULE = "done_work"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield records that the schedule lacks, has otherwise or plans again, and history without a record."""
    works: dict[tuple[str, str], list[Work]] = defaultdict(list)
    for work in facts.schedule.work:
        works[work.unit_id, work.name].append(work)
    records = {(row.unit_id, row.step): row for row in facts.shop.done}
    for key, record in records.items():
        yield from _unlike(facts, record, works[key])
    for key, listed in works.items():
        for work in listed:
            if work.done and key not in records:
                yield _breach(facts, work, None, "is called done, but there is no record of it")


def _unlike(facts: Facts, record: Done, works: list[Work]) -> Iterator[Breach]:
    if not works:
        says = f"{record.unit_id} {record.step} has been done, but is not in the schedule"
        yield Breach(_RULE, (f"{record.unit_id}/{record.step}",), facts.local(facts.utc(record.started_at)), None, says)
    for work in works:
        if not work.done:
            yield _breach(facts, work, None, "has been done, but is planned again")
            continue
        off = [
            minutes(facts.utc(record.started_at), facts.utc(work.start)),
            minutes(facts.utc(record.ended_at), facts.utc(work.end)),
        ]
        if any(off):
            yield _breach(facts, work, max(map(abs, off)), "does not have the times that were recorded")
        if record.bay_id is not None and record.bay_id != work.bay_id:
            yield _breach(facts, work, None, f"was done in {record.bay_id}, the schedule says {work.bay_id or 'the yard'}")
        if record.people and {who.person_id for who in work.people} not in (set(), set(record.people)):
            yield _breach(facts, work, None, f"was done by {' and '.join(record.people)}, the schedule names others")


def _breach(facts: Facts, work: Work, amount: float | None, fault: str) -> Breach:
    at = facts.local(facts.utc(work.start))
    return Breach(_RULE, (work.work_id,), at, amount, f"{work.unit_id} {work.name} {fault}")
