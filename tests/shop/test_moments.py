from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from scheduler.shop.moments import at_site, wall, zone_of
from scheduler.shop.time_fields import Clock, Day, Moment, read_moment

BERLIN = ZoneInfo("Europe/Berlin")
ZONES = st.sampled_from(["Europe/Berlin", "America/Chicago", "Australia/Lord_Howe", "Asia/Kolkata", "UTC"]).map(ZoneInfo)
INSTANTS = st.datetimes(datetime(2000, 1, 1), datetime(2060, 1, 1), timezones=st.just(UTC))


@settings(max_examples=80, deadline=None)
@given(INSTANTS, INSTANTS, ZONES)
def test_moments_of_a_site_subtract_like_instants(first: datetime, second: datetime, tz: ZoneInfo) -> None:
    """With fixed offsets a difference is time elapsed, across any change of the clocks, and nothing is lost."""
    a, b = at_site(first, tz), at_site(second, tz)
    assert a - b == first - second
    assert (a < b) == (first < second)
    assert a == first
    assert a.replace(tzinfo=None) == first.astimezone(tz).replace(tzinfo=None)


def test_the_skipped_hour_is_refused() -> None:
    """On 29 March 2026 the clock in Berlin goes from 02:00 to 03:00: half past two is no time."""
    with pytest.raises(ValueError, match=r"no 02:30 on 2026-03-29 in Europe/Berlin.*; write"):
        read_moment("2026-03-29T02:30", BERLIN)
    assert read_moment("2026-03-29T03:00", BERLIN) == datetime(2026, 3, 29, 1, tzinfo=UTC)


def test_the_repeated_hour_is_the_first_unless_an_offset_tells() -> None:
    """On 25 October 2026 half past two comes twice in Berlin; the offset names the second."""
    assert read_moment("2026-10-25T02:30", BERLIN) == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    assert read_moment("2026-10-25T02:30+01:00", BERLIN) == datetime(2026, 10, 25, 1, 30, tzinfo=UTC)


def test_a_shift_that_starts_in_the_gap_counts_with_the_offset_before_it() -> None:
    """RFC 5545, section 3.3.5 (from memory): a local time that does not occur is read with the offset before the gap."""
    assert wall(date(2026, 3, 29), time(2, 30), BERLIN) == datetime(2026, 3, 29, 1, 30, tzinfo=UTC)
    assert wall(date(2026, 10, 25), time(2, 30), BERLIN) == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)


def test_an_offset_is_fixed_and_that_of_the_site() -> None:
    """The instant is kept and shown on the site's clock; adding hours to it adds hours of time."""
    moment = at_site(datetime(2026, 3, 28, 23, tzinfo=UTC), BERLIN)
    assert moment.isoformat() == "2026-03-29T00:00:00+01:00"
    assert (moment + timedelta(hours=6)).astimezone(UTC) == datetime(2026, 3, 29, 5, tzinfo=UTC)


@pytest.mark.parametrize("name", ["Mars/Base", "", "../../etc/passwd", "Europe", "a\0b", "x" * 5000, None])
def test_what_is_no_zone_is_none(name: object) -> None:
    """Neither folders nor paths nor nonsense raise anything but a plain no."""
    assert zone_of(name) is None


@pytest.mark.parametrize(
    "text",
    [
        "2026-05-04",
        "46146.5",
        "46146",
        "04/05/2026 07:00",
        "2026-05-04T24:30",
        "2026-02-30T07:00",
        "1889-01-01T00:00",
        "",
        "2026-05-04T7:00",
    ],
)
def test_what_is_no_moment_is_refused_with_a_cure(text: str) -> None:
    """A day alone, a spreadsheet's serial number, a local form, an impossible day and a year of another age."""
    with pytest.raises(ValidationError, match=r"; (write|correct)"):
        TypeAdapter(Moment).validate_python(text)


@pytest.mark.parametrize("text", ["2026-02-30", "46146", "4.5.2026", "2026-05-04T07:00", "3000-01-01"])
def test_what_is_no_day_is_refused(text: str) -> None:
    """A column of days takes days and nothing else."""
    with pytest.raises(ValidationError):
        TypeAdapter(Day).validate_python(text)


@pytest.mark.parametrize(
    ("text", "value"), [("07:30", time(7, 30)), ("7:30", time(7, 30)), ("24:00", time(0)), ("07:30:15", time(7, 30, 15))]
)
def test_a_time_of_day_is_hours_and_minutes(text: str, value: time) -> None:
    """24:00 is midnight."""
    assert TypeAdapter(Clock).validate_python(text) == value


@pytest.mark.parametrize("text", ["25:00", "07:60", "7", "27000", "7.30", "24:01", "07:00Z"])
def test_what_is_no_time_of_day_is_refused(text: str) -> None:
    """Seconds since midnight and half-written times are refused."""
    with pytest.raises(ValidationError):
        TypeAdapter(Clock).validate_python(text)
