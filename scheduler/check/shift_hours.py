"""shift_hours: attended work lies inside shifts and outside breaks and closures; a coat never spans a break."""

from bisect import bisect_right
from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import pairwise

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, piece_of
from scheduler.check.moments import Stretch, minutes, shared_min
from scheduler.shop.calendar import Shut
from scheduler.shop.working_time import merged

_RULE = "shift_hours"
_EXACT_MIN = 1e-6


def check(facts: Facts) -> Iterator[Breach]:
    """Yield work off the horizon, of the wrong length, cut where it may not be, out of shift or in closed places."""
    shifts = {who: _joined(stretches) for who, stretches in facts.shifts.items()}
    yield from _naive(facts)
    for job in facts.planned:
        off = list(_off_horizon(facts, job))
        yield from off
        yield from _length(facts, job)
        yield from _cuts(facts, job)
        if not off:
            yield from _out_of_shift(facts, job, shifts)
            yield from _closed(facts, job)


def _naive(facts: Facts) -> Iterator[Breach]:
    """Yield work with times that carry no offset; every check reads them as the site's wall time."""
    for work in facts.schedule.work:
        if any(moment.tzinfo is None for span in work.spans for moment in (span.start, span.end)):
            says = f"{work.unit_id} {work.name} has a time without an offset from UTC"
            yield Breach(_RULE, (work.work_id,), facts.local(facts.utc(work.start)), None, says)


def _off_horizon(facts: Facts, job: Job) -> Iterator[Breach]:
    first, last = facts.from_now(), facts.utc(facts.shop.site.plan_until)
    off = max(minutes(job.start, first), minutes(last, job.end))
    if off > 0:
        says = f"{job.label} on {facts.when(job.start)} lies {off:.0f} min outside the horizon"
        yield facts.breach(_RULE, (job,), job.start, off, says)


def _length(facts: Facts, job: Job) -> Iterator[Breach]:
    """Yield work that is shorter than its method says, or longer by a whole slot or more."""
    slot = facts.shop.site.grid_min
    least = max(job.need.minutes(job.method), 0.0)
    most = max(least + slot - _EXACT_MIN, slot + _EXACT_MIN)
    if not least - _EXACT_MIN <= job.minutes < most:
        says = (
            f"{job.label} on {facts.when(job.start)} takes {job.minutes:g} min, "
            f"its method gives {least:.0f} min in slots of {slot} min"
        )
        yield facts.breach(_RULE, (job,), job.start, job.minutes - least, says)


def _cuts(facts: Facts, job: Job) -> Iterator[Breach]:
    if len(job.spans) > 1 and not job.method.may_pause:
        stops, goes_on = job.spans[0].end, job.spans[1].start
        says = f"{job.label} may not pause, but stops from {facts.when(stops)} to {facts.when(goes_on)}"
        yield facts.breach(_RULE, (job,), stops, minutes(stops, goes_on), says)
    if any(span.end <= span.start for span in job.spans) or any(b.start < a.end for a, b in pairwise(job.spans)):
        says = f"{job.label} on {facts.when(job.start)} has stretches that end before they start or overlap"
        yield facts.breach(_RULE, (job,), job.start, None, says)
    elif job.method.may_pause:
        yield from _idle(facts, job)


def _idle(facts: Facts, job: Job) -> Iterator[Breach]:
    """Yield pauses that take in a whole slot in which someone is on shift."""
    for one, two in pairwise(job.spans):
        if open_slot := _first_open_slot(facts, one.end, two.start):
            pause = f"{facts.when(one.end)} to {facts.when(two.start)}"
            says = f"{job.label} pauses from {pause}, though someone is on shift at {facts.when(open_slot)}"
            yield facts.breach(_RULE, (job,), one.end, minutes(one.end, two.start), says)


def _first_open_slot(facts: Facts, start: datetime, end: datetime) -> datetime | None:
    """Return the first slot from start to end that lies wholly inside working time; ``start`` is on the grid."""
    slot = timedelta(minutes=facts.shop.site.grid_min)
    place = max(bisect_right(facts.manned, (start, start)) - 1, 0)
    for stretch in facts.manned[place:]:
        skipped = max(0, -((start - stretch.start) // slot))
        first = start + skipped * slot
        if first + slot <= min(stretch.end, end):
            return first
        if stretch.start >= end:
            break
    return None


def _out_of_shift(facts: Facts, job: Job, shifts: dict[str, tuple[Stretch, ...]]) -> Iterator[Breach]:
    for who in job.people:
        for span in job.spans if who in shifts else ():
            outside = span.minutes - shared_min(span, shifts[who])
            if outside > 0:
                time = f"{facts.when(span.start)} to {facts.when(span.end)}"
                says = f"{job.label}: {who} works from {time}, {outside:.0f} min of it off shift"
                yield facts.breach(_RULE, (job,), span.start, outside, says)


def _closed(facts: Facts, job: Job) -> Iterator[Breach]:
    places = [(Shut.SITE, ""), (Shut.BAY, job.work.bay_id or "")]
    tools = [(Shut.EQUIPMENT, row) for row in dict.fromkeys(piece_of(tool)[0] for tool in job.work.tools)]
    for key in (*places, *tools):
        for span in job.spans if key in facts.closed else ():
            shut = shared_min(span, facts.closed[key])
            if shut > 0:
                says = f"{job.label} on {facts.when(span.start)}: {key[1] or 'the site'} is closed for {shut:.0f} min of it"
                yield facts.breach(_RULE, (job,), span.start, shut, says)


def _joined(stretches: tuple[tuple[Stretch, bool], ...]) -> tuple[Stretch, ...]:
    return tuple(Stretch(a, b) for a, b in merged(stretch for stretch, _ in stretches))
