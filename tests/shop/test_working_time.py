from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.shop.calendar import Closure, Shift
from scheduler.shop.moments import at_site
from scheduler.shop.resources import Person
from scheduler.shop.shop import Shop
from scheduler.shop.site import Site
from scheduler.shop.working_time import merged, without, working_stretches

ANN = Person(person_id="ann", name="Ann", skills=("sprayer",), shift_id="s")
EMPTY = dict.fromkeys(
    ("orders", "units", "surfaces", "coating_systems", "products", "product_times", "lots", "bays", "equipment", "methods"), ()
)


def shop(plan_from: str, plan_until: str, shifts: list[Shift], closures: list[Closure] | None = None) -> Shop:
    """Return a shop with one person."""
    site = {"name": "x", "zone": "Europe/Berlin", "latitude_deg": 52, "longitude_deg": 13}
    made = Site.model_validate(site | {"plan_from": plan_from, "plan_until": plan_until})
    made = made.model_copy(update={k: at_site(getattr(made, k), made.tz) for k in ("plan_from", "plan_until")})
    return Shop.model_validate(EMPTY | {"site": made, "crew": (ANN,), "shifts": tuple(shifts), "closures": tuple(closures or ())})


def shift(
    weekdays: str,
    starts: str,
    ends: str,
    break_starts: str | None = None,
    break_ends: str | None = None,
    *,
    overtime: bool = False,
) -> Shift:
    """Return a row of the shift of that person."""
    cells = {"shift_id": "s", "weekdays": weekdays, "starts": starts, "ends": ends, "overtime": overtime}
    return Shift.model_validate(cells | {"break_starts": break_starts, "break_ends": break_ends})


def closed(what: str, which: str, start: str, end: str) -> Closure:
    """Return a closure."""
    cells = {"what": what, "which": which, "closed_from": start, "closed_until": end, "reason": "x"}
    return Closure.model_validate(cells)


def texts(made: Shop) -> list[str]:
    """Return the stretches of the person, overtime marked with +."""
    return [f"{a:%a %H:%M}-{b:%H:%M}{'+' if extra else ''}" for a, b, extra in working_stretches(made, ANN)]


def test_a_week_of_shifts_with_breaks_overtime_and_a_late_start_of_the_plan() -> None:
    """2026-06-01 is a Monday: the plan clips the first stretch, the break cuts each day, overtime keeps its flag."""
    made = shop(
        "2026-06-01T09:00",
        "2026-06-03T00:00",
        [shift("mon tue", "07:00", "15:30", "11:30", "12:00"), shift("mon", "15:30", "17:00", overtime=True)],
    )
    assert texts(made) == ["Mon 09:00-11:30", "Mon 12:00-15:30", "Mon 15:30-17:00+", "Tue 07:00-11:30", "Tue 12:00-15:30"]


def test_closures_of_the_site_and_of_the_person_take_time_away_others_do_not() -> None:
    """A holiday and an absence cut the day; somebody else's absence and a bay's repair do not."""
    closures = [
        closed("site", "", "2026-06-01T00:00+02:00", "2026-06-02T00:00+02:00"),
        closed("person", "ann", "2026-06-02T10:00+02:00", "2026-06-02T11:00+02:00"),
        closed("person", "bob", "2026-06-02T07:00+02:00", "2026-06-02T09:00+02:00"),
        closed("bay", "ann", "2026-06-02T07:00+02:00", "2026-06-02T09:00+02:00"),
    ]
    made = shop("2026-06-01T00:00", "2026-06-03T00:00", [shift("mon tue", "07:00", "12:00")], closures)
    assert texts(made) == ["Tue 07:00-10:00", "Tue 11:00-12:00"]


def test_where_overtime_overlaps_plain_time_the_plain_time_holds() -> None:
    """Nobody is paid overtime for an hour that is in their shift."""
    made = shop(
        "2026-06-01T00:00", "2026-06-02T00:00", [shift("mon", "08:00", "12:00"), shift("mon", "07:00", "13:00", overtime=True)]
    )
    assert texts(made) == ["Mon 07:00-08:00+", "Mon 08:00-12:00", "Mon 12:00-13:00+"]


@pytest.mark.parametrize(("day", "hours"), [("2026-03-28", 7.0), ("2026-10-24", 9.0), ("2026-06-06", 8.0)])
def test_a_night_shift_over_a_change_of_the_clocks_has_an_hour_less_or_more(day: str, hours: float) -> None:
    """From 22:00 to 06:00 are 7 hours in the night to 29 March 2026, 9 in the night to 25 October, 8 in others."""
    until = datetime.fromisoformat(day) + timedelta(days=2)
    made = shop(f"{day}T12:00", until.isoformat(timespec="minutes"), [shift("sat", "22:00", "06:00")])
    ((start, end, _),) = working_stretches(made, ANN)
    assert end - start == timedelta(hours=hours)


def test_the_night_shift_of_the_day_before_reaches_into_the_plan() -> None:
    """A plan from Tuesday 03:00 has the rest of Monday's night, with its break on the next day."""
    made = shop("2026-06-02T03:00", "2026-06-02T12:00", [shift("mon", "22:00", "06:00", "04:00", "04:30")])
    assert texts(made) == ["Tue 03:00-04:00", "Tue 04:30-06:00"]


def test_a_shift_with_equal_ends_is_a_whole_day() -> None:
    """From 06:00 to 06:00 are 24 hours, of which the plan takes its own."""
    made = shop("2026-06-01T00:00", "2026-06-03T00:00", [shift("mon", "06:00", "06:00")])
    ((start, end, _),) = working_stretches(made, ANN)
    assert end - start == timedelta(hours=24)


HOURS = st.integers(0, 40)
SPANS = st.lists(st.tuples(HOURS, HOURS), max_size=6)


def moments(spans: list[tuple[int, int]]) -> list[tuple[datetime, datetime]]:
    """Turn hours into moments."""
    origin = datetime(2026, 6, 1, tzinfo=UTC)
    return [(origin + timedelta(hours=a), origin + timedelta(hours=b)) for a, b in spans]


@settings(max_examples=80, deadline=None)
@given(SPANS, SPANS)
def test_spans_without_holes_are_what_a_set_of_hours_says(spans: list[tuple[int, int]], holes: list[tuple[int, int]]) -> None:
    """Hour by hour: in a span and in no hole. What is left is sorted and does not touch."""
    left = without(moments(spans), moments(holes))
    inside = {h for a, b in spans for h in range(a, b)} - {h for a, b in holes for h in range(a, b)}
    origin = datetime(2026, 6, 1, tzinfo=UTC)
    found = [
        h for a, b in left for h in range(round((a - origin) / timedelta(hours=1)), round((b - origin) / timedelta(hours=1)))
    ]
    assert found == sorted(inside)
    assert all(b < c for (_, b), (c, _) in pairwise(merged(moments(spans))))
