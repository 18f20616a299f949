"""Working days and clock changes against calendars that others keep.

Sources: the package `holidays` (public holidays of Germany, state of Bavaria, 2026) and the zone database through the
standard library (Europe/Berlin and America/New_York, both clock changes of 2026).
"""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from scheduler.activities.build import build_network
from scheduler.shop.calendar import WEEKDAYS, Closure
from scheduler.shop.shop import Shop
from tests.random_shop import random_shop

YEAR = 2026
CHANGES = [
    ("Europe/Berlin", date(YEAR, 3, 29), 23),
    ("Europe/Berlin", date(YEAR, 10, 25), 25),
    ("America/New_York", date(YEAR, 3, 8), 23),
    ("America/New_York", date(YEAR, 11, 1), 25),
]


def _shop(zone: str, first: date, days: int, **tables: object) -> Shop:
    """A random shop whose horizon is made of whole local days."""
    base, tz = random_shop(1, 2), ZoneInfo(zone)
    begin = datetime(first.year, first.month, first.day, tzinfo=tz)
    last = first + timedelta(days=days)
    until = datetime(last.year, last.month, last.day, tzinfo=tz)
    site = base.site.model_copy(update={"zone": zone, "plan_from": begin, "plan_until": until})
    rows = {name: getattr(base, name) for name in Shop.model_fields}
    hour = begin.astimezone(UTC).replace(minute=0)
    weather = tuple(row.model_copy(update={"at": hour + timedelta(hours=n)}) for n, row in enumerate(base.weather))
    return Shop.model_validate({**rows, "site": site, "weather": weather, **tables})


def test_work_falls_on_no_public_holiday_and_on_every_other_day_of_the_pattern() -> None:
    """Bavaria in May 2026 with its holidays as closures: the days with working slots are Monday to Saturday less the holidays."""
    holidays = pytest.importorskip("holidays")
    tz, first, days = ZoneInfo("Europe/Berlin"), date(YEAR, 4, 30), 28
    known = holidays.country_holidays("DE", subdiv="BY", years=YEAR)
    free = sorted(day for day in known if first <= day < first + timedelta(days))
    assert len(free) >= 3
    closed = [
        Closure(
            what="site",  # type: ignore[arg-type]
            closed_from=datetime(day.year, day.month, day.day, tzinfo=tz),
            closed_until=datetime(day.year, day.month, day.day, tzinfo=tz) + timedelta(days=1),
            reason="holiday",
        )
        for day in free
    ]
    grid = build_network(_shop("Europe/Berlin", first, days, closures=tuple(closed))).grid
    worked = {grid.start_of(slot).astimezone(tz).date() for slot in range(len(grid))}
    wanted = {first + timedelta(n) for n in range(days)} - set(free)
    assert worked == {day for day in wanted if day.weekday() < 6}


@pytest.mark.parametrize(("zone", "day", "hours"), CHANGES)
def test_the_day_of_a_clock_change_has_the_hours_that_the_zone_database_gives(zone: str, day: date, hours: int) -> None:
    """A shift round the clock on each of the four days: as many quarter hours as the day has, in wall time that exists."""
    shifts = tuple(
        row.model_copy(update={"weekdays": WEEKDAYS, "break_starts": None, "break_ends": None})
        for row in random_shop(1, 2).shifts[:1]
    )
    clock = {"starts": shifts[0].starts.replace(hour=0, minute=0), "ends": shifts[0].ends.replace(hour=0, minute=0)}
    shop = _shop(zone, day, 1, shifts=tuple(row.model_copy(update=clock) for row in shifts))
    grid, tz = build_network(shop).grid, ZoneInfo(zone)
    assert len(grid) == hours * 4
    local = [grid.start_of(slot).astimezone(tz) for slot in range(len(grid))]
    assert {moment.date() for moment in local} == {day}
    assert all(moment.astimezone(UTC).astimezone(tz).replace(fold=0) == moment.replace(fold=0) for moment in local)
    assert len({(moment.replace(tzinfo=None), moment.fold) for moment in local}) == hours * 4
