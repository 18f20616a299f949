"""Shifts, breaks and closures that make no sense, and a calendar in which nobody ever works."""

from collections.abc import Iterator
from datetime import time

from scheduler.shop.calendar import Closure, Shift
from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.shop import Shop
from scheduler.shop.site import LONGEST_HORIZON_D

_DAY_MIN = 1440


def horizon(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report a horizon that ends before it starts or is longer than a year."""
    site = shop.site
    days = site.horizon_d
    if days <= 0:
        yield draft.site_fault("plan_until", site.plan_until.isoformat(), "not after plan_from", "let the plan end later")
    if days > LONGEST_HORIZON_D:
        cure = f"plan at most {LONGEST_HORIZON_D} days at a time"
        yield draft.site_fault("plan_until", site.plan_until.isoformat(), f"a horizon of {days:,.0f} days", cure)


def shifts(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report breaks that are half there, backwards or outside their shift."""
    for line, row in draft.rows("shifts", Shift):
        if (row.break_starts is None) != (row.break_ends is None):
            missing = "break_starts" if row.break_starts is None else "break_ends"
            yield draft.fault("shifts", line, missing, None, "the break has one end only", "fill in both, or neither")
        elif row.break_starts is not None and row.break_ends is not None and not _fits(row, row.break_starts, row.break_ends):
            value = f"{row.break_starts:%H:%M} to {row.break_ends:%H:%M}"
            problem = "the break does not lie inside the shift, its start before its end"
            yield draft.fault("shifts", line, "break_starts", value, problem, "correct the times")


def closures(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report closures that end before they start."""
    for line, row in draft.rows("closures", Closure):
        if row.closed_until <= row.closed_from:
            problem = "the closure ends before it starts, or at once"
            cure = "let closed_until be later than closed_from"
            yield draft.fault("closures", line, "closed_until", row.closed_until.isoformat(), problem, cure)


def empty_calendar(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report a horizon in which nobody is ever on shift."""
    if not draft.whole("shifts", "crew") or not shop.crew or not shop.site.is_plannable:
        return
    if not any(draft.stretches.values()):
        problem = "nobody is on shift between plan_from and plan_until"
        cure = "add shifts on these weekdays, shorten the closures, or let the plan end later"
        yield draft.fault("shifts", None, None, None, problem, cure)


def _fits(row: Shift, break_starts: time, break_ends: time) -> bool:
    start = _minute(row.starts)
    end = _minute(row.ends) + (_DAY_MIN if row.ends <= row.starts else 0)
    first, last = (_minute(t) + (_DAY_MIN if t < row.starts else 0) for t in (break_starts, break_ends))
    return start <= first < last <= end


def _minute(clock: time) -> float:
    return clock.hour * 60 + clock.minute + clock.second / 60
