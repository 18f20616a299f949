"""Wall time on both days on which the clock changes (Europe/Berlin 2025: 30 March, 26 October; tz database)."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduler.documents.words.local_time import LocalTime, duration_text, long_day_text
from scheduler.shop.day_words import day_text

BERLIN = LocalTime(ZoneInfo("Europe/Berlin"))
HOUR_MS = 3_600_000


def test_the_second_round_of_the_repeated_hour_is_marked() -> None:
    """00:30 and 01:30 UTC are both half past two on the wall; only the second says so."""
    first = datetime(2025, 10, 26, 0, 30, tzinfo=UTC)
    assert BERLIN.clock(first) == "02:30"
    assert BERLIN.clock(first + timedelta(hours=1)) == "02:30 (2nd)"


def test_the_axis_shows_wall_time_in_winter_and_summer() -> None:
    """Seven in the morning lies seven hours after midnight of the axis, whatever the offset is."""
    for moment in (datetime(2025, 10, 25, 5, tzinfo=UTC), datetime(2025, 10, 27, 6, tzinfo=UTC)):
        assert BERLIN.axis_ms(moment) % (24 * HOUR_MS) == 7 * HOUR_MS


def test_a_bar_over_a_clock_change_starts_and_ends_at_its_wall_times() -> None:
    """Four hours from 01:00 end at 04:00 in autumn: three hours of axis; in spring at 06:00: five."""
    autumn = datetime(2025, 10, 25, 23, tzinfo=UTC)
    spring = datetime(2025, 3, 30, 0, tzinfo=UTC)
    assert BERLIN.axis_span_ms(autumn, autumn + timedelta(hours=4))[1] == 3 * HOUR_MS
    assert BERLIN.axis_span_ms(spring, spring + timedelta(hours=4))[1] == 5 * HOUR_MS


def test_a_bar_inside_the_repeated_hour_keeps_its_length() -> None:
    """From 02:45 to 02:15 of the second round the wall runs backwards: the bar is half an hour, not less than nothing."""
    start = datetime(2025, 10, 26, 0, 45, tzinfo=UTC)
    assert BERLIN.axis_span_ms(start, start + timedelta(minutes=30))[1] == HOUR_MS // 2


def test_an_end_at_midnight_does_not_touch_the_next_day() -> None:
    """A shift until 24:00 belongs to one day, one until 00:15 to two."""
    start, midnight = datetime(2025, 10, 20, 18, tzinfo=UTC), datetime(2025, 10, 20, 22, tzinfo=UTC)
    assert list(BERLIN.days(start, midnight)) == [date(2025, 10, 20)]
    assert list(BERLIN.days(start, midnight + timedelta(minutes=15))) == [date(2025, 10, 20), date(2025, 10, 21)]


def test_days_and_lengths_are_written_out() -> None:
    """Days and durations do not depend on the language of the machine."""
    assert day_text(date(2025, 10, 20)) == "Mon 20 Oct"
    assert long_day_text(date(2025, 10, 20)) == "Monday 20 Oct 2025"
    assert [duration_text(m) for m in (0, 45, 60, 90)] == ["0 min", "45 min", "1 h", "1 h 30 min"]
    assert BERLIN.iso(datetime(2025, 10, 20, 5, tzinfo=UTC)) == "2025-10-20T07:00+02:00"
