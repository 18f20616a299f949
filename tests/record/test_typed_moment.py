"""Moments as they are typed, against the zone database on the days on which the clock changes."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from scheduler.record.typed_moment import typed_moment

ZONES = (("Europe/Berlin", "2026-03-29", "2026-10-25"), ("America/New_York", "2026-03-08", "2026-11-01"))
BERLIN = ZoneInfo("Europe/Berlin")
WEDNESDAY = datetime(2026, 3, 4, 10, 0, tzinfo=BERLIN)


@pytest.mark.parametrize(
    ("text", "ahead", "wanted"),
    [
        ("08:10", False, "2026-03-04T08:10+01:00"),
        ("8:10", False, "2026-03-04T08:10+01:00"),
        ("yesterday 16:30", False, "2026-03-03T16:30+01:00"),
        ("tomorrow 07:00", True, "2026-03-05T07:00+01:00"),
        ("tomorrow", True, "2026-03-05T00:00+01:00"),
        ("Tue 07:00", False, "2026-03-03T07:00+01:00"),
        ("wednesday 07:00", False, "2026-03-04T07:00+01:00"),
        ("thu 07:00", False, "2026-02-26T07:00+01:00"),
        ("thu 07:00", True, "2026-03-05T07:00+01:00"),
        ("2026-03-01T07:30", False, "2026-03-01T07:30+01:00"),
        ("2026-03-01 07:30:59", False, "2026-03-01T07:30+01:00"),
        ("2026-03-01T07:30:15.250+02:00", False, "2026-03-01T06:30+01:00"),
        ("2026-03-01 07:30Z", False, "2026-03-01T08:30+01:00"),
        ("07:30+00:00", False, "2026-03-04T08:30+01:00"),
    ],
)
def test_what_is_not_said_is_taken_from_the_clock(text: str, ahead: bool, wanted: str) -> None:
    """A time of day is today; a weekday the last one, or the coming one for what lies ahead."""
    assert typed_moment(text, WEDNESDAY, BERLIN, ahead=ahead) == datetime.fromisoformat(wanted)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "8",
        "25:00",
        "08:61",
        "noon",
        "2026-02-30",
        "46023.5",
        "08:10 pm",
        ":30",
        "tue :30",
        "08:10:75",
        "2026-03-01T07:30+99:00",
    ],
)
def test_what_is_no_time_is_refused_with_a_cure(text: str) -> None:
    """Problem and cure, parted by a semicolon."""
    with pytest.raises(ValueError, match=";"):
        typed_moment(text, WEDNESDAY, BERLIN)


@pytest.mark.parametrize(("key", "spring", "autumn"), ZONES)
def test_every_quarter_of_both_days_is_as_the_zone_database_says(key: str, spring: str, autumn: str) -> None:
    """A wall time that is there once is that instant; one that is skipped or shown twice is refused, but for an offset."""
    tz = ZoneInfo(key)
    for day in (spring, autumn):
        midnight = datetime.fromisoformat(day).replace(tzinfo=tz)
        walls: dict[str, list[datetime]] = {}
        instant = midnight.astimezone(UTC)
        while instant.astimezone(tz).date() == midnight.date():
            walls.setdefault(f"{instant.astimezone(tz):%H:%M}", []).append(instant)
            instant += timedelta(minutes=15)
        assert {len(found) for found in walls.values()} == ({1} if day == spring else {1, 2})
        for minutes in range(0, 1440, 15):
            text = f"{day}T{minutes // 60:02d}:{minutes % 60:02d}"
            found = walls.get(text[-5:], [])
            if len(found) == 1:
                assert typed_moment(text, midnight, tz) == found[0]
                continue
            with pytest.raises(ValueError, match="twice" if found else "there is no"):
                typed_moment(text, midnight, tz)
            for one in found:
                assert typed_moment(one.astimezone(tz).isoformat(timespec="minutes"), midnight, tz) == one
