"""The work axis: rounding inward and outward, pauses that cost no slot, both clock changes."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from scheduler.activities.time_grid import TimeGrid, work_axis

BERLIN = ZoneInfo("Europe/Berlin")


def _axis(day: datetime, hours: tuple[tuple[float, float], ...]) -> TimeGrid:
    stretches = [(day + timedelta(hours=a), day + timedelta(hours=b)) for a, b in hours]
    return work_axis(stretches, day, day + timedelta(days=2), 15, BERLIN)


def test_a_break_is_no_slot_and_stretches_round_inward() -> None:
    """07:07 to 12:00 and 12:30 to 16:08 leave 07:15-12:00 and 12:30-16:00: 19 and 14 quarters."""
    day = datetime(2026, 6, 1, tzinfo=BERLIN)
    grid = _axis(day, ((7 + 7 / 60, 12), (12.5, 16 + 8 / 60)))
    assert len(grid) == 19 + 14
    assert grid.start_of(0).astimezone(BERLIN).time().isoformat() == "07:15:00"
    assert grid.start_of(19).astimezone(BERLIN).time().isoformat() == "12:30:00"
    assert grid.end_of(19).astimezone(BERLIN).time().isoformat() == "12:00:00"


@pytest.mark.parametrize(("day", "hours"), [((2026, 3, 29), 23), ((2026, 10, 25), 25)])
def test_the_days_of_the_clock_change_have_their_own_length(day: tuple[int, int, int], hours: int) -> None:
    """Real time runs through: a whole local day of work is 23 or 25 hours of slots (EU summer time rules)."""
    start, end = datetime(*day, tzinfo=BERLIN), datetime(*day, tzinfo=BERLIN) + timedelta(days=1)
    grid = work_axis([(start, end)], start, end, 15, BERLIN)
    assert len(grid) == hours * 4
    assert set(grid.day.tolist()) == {start.date().toordinal()}


def test_waits_round_to_later_starts_and_limits_to_earlier_ones() -> None:
    """A wait of 16 min lasts two slots of 15 min, a limit of 16 min only one."""
    grid = _axis(datetime(2026, 6, 1, tzinfo=BERLIN), ((7, 12),))
    base = float(grid.start_min[0])
    assert int(grid.first_from(base + 16)) == 2
    assert int(grid.last_until(base + 16)) == 1


@pytest.mark.parametrize("zone", ["Europe/Berlin", "America/Havana", "Asia/Beirut", "Australia/Lord_Howe", "Pacific/Apia"])
def test_days_are_those_of_the_local_clock_slot_by_slot(zone: str) -> None:
    """Zones that change the clock at midnight, by half an hour, or once left a day out (Apia, 30 December 2011)."""
    tz = ZoneInfo(zone)
    for year, month in ((2011, 12), (2026, 3), (2026, 10)):
        start = datetime(year, month, 24, 22, tzinfo=tz)
        grid = work_axis([(start, start + timedelta(days=16))], start, start + timedelta(days=16), 30, tz)
        assert grid.day.tolist() == [grid.start_of(w).astimezone(tz).toordinal() for w in range(len(grid))]
        assert grid.end_day.tolist() == [grid.end_of(e).astimezone(tz).toordinal() for e in range(len(grid) + 1)]
