"""Due dates on the grid."""

from datetime import datetime, timedelta

from tiny_shop import MONDAY, ORDER, SITE, tiny_shop

from scheduler.activities.build import build_network
from scheduler.activities.goals import late_curve
from scheduler.activities.resources import crew_of

DAY = 38


def test_days_late_are_days_of_the_calendar_and_at_least_one() -> None:
    """Due on Monday at 11:00: in time at 11:00, a day late at 11:15 and on Tuesday, two days late on Wednesday."""
    grid = crew_of(tiny_shop()).grid
    late = late_curve(grid, MONDAY + timedelta(hours=5))
    assert (late[20], late[21], late[DAY], late[DAY + 1], late[2 * DAY], late[2 * DAY + 1]) == (0, 1, 1, 1, 1, 2)


def test_a_due_date_in_winter_time_counts_days_of_the_wall_clock() -> None:
    """Due on Friday at 23:59 before the clock goes back, handed over on Monday at 06:15 after it: three days late."""
    zone = MONDAY.tzinfo
    friday = datetime(2025, 10, 24, 6, tzinfo=zone)
    grid = crew_of(tiny_shop(site={**SITE, "plan_from": friday, "plan_until": friday + timedelta(days=5)})).grid
    late = late_curve(grid, friday.replace(hour=23, minute=59))
    assert (late[DAY], late[DAY + 1]) == (0, 3)


def test_an_overdue_order_is_late_from_the_first_slot_on() -> None:
    """Due a week before the plan begins."""
    net = build_network(tiny_shop(orders=[{**ORDER, "due_at": MONDAY - timedelta(days=7)}])).network
    assert net.dues[0].late[0] == 7
