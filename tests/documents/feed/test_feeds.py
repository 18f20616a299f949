"""Calendar feeds: read back with the library of the standard, and by hand where the library could be wrong itself."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar, Event

from documents.sample import sample_schedule, sample_shop
from scheduler.documents.feed.calendar_file import calendar_bytes
from scheduler.documents.feed.entries import Entry, Feed, feeds, plain
from scheduler.documents.feed.write_feeds import write_feeds
from scheduler.documents.feed.zone_rules import zone_rules
from scheduler.documents.words.work_words import WorkWords
from scheduler.shop.methods import Step

BERLIN = ZoneInfo("Europe/Berlin")
MADE = datetime(2025, 10, 19, 12, tzinfo=UTC)
ZONES = ("Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata", "Europe/Dublin", "America/St_Johns")


def entry(starts: datetime, hours: float = 1, **changes: object) -> Entry:
    """An entry that lasts an hour."""
    values = {"uid": "u1", "starts": starts, "ends": starts + timedelta(hours=hours), "title": "Coat 1", "place": "B2"}
    return Entry(**{**values, "text": "with Ana", "tentative": False, **changes})  # type: ignore[arg-type]


def file_of(*entries: Entry, earlier: bytes | None = None, made: datetime = MADE, now: datetime = MADE) -> bytes:
    """A feed of these entries as its file."""
    return calendar_bytes(Feed("person-ana", "Ana", entries), BERLIN, made, now, earlier)


def events_of(data: bytes) -> list[Event]:
    """Entries as the library reads them back."""
    return [e for e in Calendar.from_ical(data).walk("VEVENT") if isinstance(e, Event)]


def by_hand(data: bytes) -> list[datetime]:
    """Starts of the entries as RFC 5545 says how to read them: by the rules in the file alone, no zone database."""
    text = data.decode().replace("\r\n ", "")
    changes = []
    for part in re.findall(r"BEGIN:(?:STANDARD|DAYLIGHT)(.*?)END:(?:STANDARD|DAYLIGHT)", text, re.DOTALL):
        fields = dict(line.split(":", 1) for line in part.split() if ":" in line)
        changes.append((stamp(fields["DTSTART"]), offset(fields["TZOFFSETFROM"]), offset(fields["TZOFFSETTO"])))
    starts = []
    for zoned, value in re.findall(r"BEGIN:VEVENT.*?DTSTART(;TZID=\S+?)?:(\S+)", text, re.DOTALL):
        if not zoned:
            starts.append(stamp(value.removesuffix("Z")).replace(tzinfo=UTC))
            continue
        wall = stamp(value)
        _, _, holds = max(change for change in changes if change[0] <= wall)  # the onset that came last on this clock
        starts.append((wall - holds).replace(tzinfo=UTC))
    return starts


def stamp(text: str) -> datetime:
    """A moment in the basic form."""
    return datetime.strptime(text, "%Y%m%dT%H%M%S")


def offset(text: str) -> timedelta:
    """An offset such as +0530."""
    minutes = int(text[1:3]) * 60 + int(text[3:5])
    return timedelta(minutes=-minutes if text[0] == "-" else minutes)


@pytest.mark.parametrize(
    "first", [datetime(2025, 10, 25, 22, tzinfo=UTC), datetime(2026, 3, 28, 22, tzinfo=UTC)], ids=["autumn", "spring"]
)
def test_every_quarter_hour_of_both_days_on_which_the_clocks_change(first: datetime) -> None:
    """Prove that each instant comes back as itself, by the library and by hand with the rules in the file alone."""
    moments = [first + timedelta(minutes=15 * i) for i in range(24)]
    data = file_of(*(entry(at, 0.25, uid=f"u{i}") for i, at in enumerate(moments)))
    assert [e.decoded("DTSTART").astimezone(UTC) for e in events_of(data)] == moments
    assert by_hand(data) == moments


@pytest.mark.parametrize("zone", ZONES)
def test_the_rules_of_a_zone_are_those_of_the_zone_database(zone: str) -> None:
    """Prove every onset of two years: it stands in the wall time of the offset before it."""
    tz = ZoneInfo(zone)
    rules = zone_rules(tz, 2025, 2026)
    for part in rules.subcomponents[1:]:
        before, after = part["TZOFFSETFROM"].td, part["TZOFFSETTO"].td
        onset = (part.decoded("DTSTART") - before).replace(tzinfo=UTC)
        assert (onset - timedelta(minutes=1)).astimezone(tz).utcoffset() == before
        assert onset.astimezone(tz).utcoffset() == after
        assert before != after
    assert len(rules.subcomponents) == (1 if zone == "Asia/Kolkata" else 5)


def test_a_date_that_moves_counts_one_on_and_what_stays_is_the_same_to_the_byte() -> None:
    """Prove it over three runs: moved, unchanged, moved back."""
    at = datetime(2025, 10, 22, 6, tzinfo=UTC)
    first = file_of(entry(at), entry(at, uid="u2"))
    second = file_of(entry(at + timedelta(hours=1)), entry(at, uid="u2"), earlier=first, made=MADE + timedelta(days=1))
    same = file_of(entry(at + timedelta(hours=1)), entry(at, uid="u2"), earlier=second, made=MADE + timedelta(days=2))
    third = file_of(entry(at), entry(at, uid="u2"), earlier=same, made=MADE + timedelta(days=3))
    assert [[int(e["SEQUENCE"]) for e in events_of(f)] for f in (first, second, third)] == [[0, 0], [1, 0], [2, 0]]
    assert same == second
    stamps = [e.decoded("DTSTAMP") for e in events_of(third)]
    assert stamps == [MADE + timedelta(days=3), MADE]


def test_a_word_that_changes_gives_a_new_stamp_and_no_new_date() -> None:
    """Prove that another colleague in the text is no change of the date."""
    at = datetime(2025, 10, 22, 6, tzinfo=UTC)
    later = MADE + timedelta(hours=2)
    (event,) = events_of(file_of(entry(at, text="with Ben"), earlier=file_of(entry(at)), made=later))
    assert (int(event["SEQUENCE"]), event.decoded("LAST-MODIFIED"), str(event["DESCRIPTION"])) == (0, later, "with Ben")


def test_what_falls_away_is_taken_back_once_and_comes_again_with_a_higher_number() -> None:
    """Prove the whole course: planned, taken back, still taken back, planned again."""
    at = datetime(2025, 10, 22, 6, tzinfo=UTC)
    first = file_of(entry(at))
    gone = file_of(earlier=first, made=MADE + timedelta(days=1))
    still = file_of(earlier=gone, made=MADE + timedelta(days=2))
    back = file_of(entry(at), earlier=still, made=MADE + timedelta(days=3))
    seen = [(str(e["STATUS"]), int(e["SEQUENCE"])) for f in (first, gone, still, back) for e in events_of(f)]
    assert seen == [("CONFIRMED", 0), ("CANCELLED", 1), ("CANCELLED", 1), ("CONFIRMED", 2)]
    assert still == gone


def test_what_has_happened_stays_and_is_forgotten_after_a_while() -> None:
    """Prove that a plan from next week on takes back nothing of this week."""
    at = datetime(2025, 10, 22, 6, tzinfo=UTC)
    first = file_of(entry(at))
    week, season = (file_of(earlier=first, now=at + timedelta(days=d)) for d in (7, 90))
    assert [str(e["STATUS"]) for e in events_of(week)] == ["CONFIRMED"]
    assert events_of(season) == []


NASTY = (
    "<script>alert(1)</script>",
    'He said: "x"; DROP, \\ END:VEVENT',
    "two\nlines\r\nATTACH:file:///etc/passwd",
    "\u202eevil\u202c \u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627",
    "\u4e94\u6708" * 100,
    "x" * 200,
    "\U0001f600" * 40,
    "\x00\x07\u2028bell",
)


@pytest.mark.parametrize("name", NASTY)
def test_names_are_inert(name: str) -> None:
    """Prove that no name opens a property, turns the direction or breaks a line; lines are 75 octets at most."""
    data = file_of(entry(datetime(2025, 10, 22, 6, tzinfo=UTC), title=name, place=name, text=name))
    (event,) = events_of(data)
    assert set(event) == {
        *("UID", "DTSTART", "DTEND", "SUMMARY", "LOCATION", "DESCRIPTION", "STATUS", "TRANSP"),
        *("SEQUENCE", "DTSTAMP", "LAST-MODIFIED"),
    }
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert not {c for c in str(event["SUMMARY"]) if c in "\u202e\u202c\x00\x07\u2028\r"}
    if name.isprintable():
        assert str(event["SUMMARY"]) == name


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=300))
def test_any_text_is_read_back_by_the_library_as_it_is(text: str) -> None:
    """Prove it for any letters: folding cuts none, and nothing but controls is lost; the library folds no line further."""
    data = file_of(entry(datetime(2025, 10, 22, 6, tzinfo=UTC), title="x", text=text))
    (event,) = events_of(data)
    assert str(event.get("DESCRIPTION", "")) == plain(text)
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert data.decode("utf-8").endswith("END:VCALENDAR\r\n")


def test_every_stretch_of_everybody_and_every_hand_over_is_there() -> None:
    """Prove it against the schedule: no more, no less, and nobody's name in a customer's file."""
    words = WorkWords(sample_shop(), sample_schedule())
    made = {feed.name: feed for feed in feeds(words)}
    for person in words.shop.crew:
        mine = [w for w in words.schedule.work if any(a.person_id == person.person_id for a in w.people)]
        spans = sorted((s.start, s.end) for w in mine for s in w.spans)
        assert sorted((e.starts, e.ends) for e in made[f"person-{person.person_id}"].entries) == spans
    for delivery in words.schedule.deliveries:
        entries = made[f"order-{delivery.order_id}"].entries
        back = sorted(e.ends for e in entries if e.title.startswith("Handed back"))
        assert back == sorted(delivery.units.values())
        assert not [e for e in entries for person in words.shop.crew if person.name in e.title + e.text]
    uids = [e.uid for feed in made.values() for e in feed.entries]
    assert len(set(uids)) == len(uids)
    assert all(w.step is not Step.DISPATCH or w.order_id for w in words.schedule.work)


def test_uids_are_the_same_after_the_plan_has_changed() -> None:
    """Prove that a later start keeps the entry: calendar programs move it and add no second one."""
    shop, before = sample_shop(), sample_schedule()
    hour = timedelta(hours=1)
    later = []
    for work in before.work:
        spans = tuple(s.model_copy(update={"start": s.start + hour, "end": s.end + hour}) for s in work.spans)
        later.append(work.model_copy(update={"spans": spans}))
    after = before.model_copy(update={"work": tuple(later)})
    uids = [{e.uid for feed in feeds(WorkWords(shop, plan)) for e in feed.entries} for plan in (before, after)]
    assert uids[0] == uids[1]


def test_files_follow_on_from_those_that_are_there(tmp_path: Path) -> None:
    """Prove that a second run changes no byte, that an order that is gone is taken back, and that a broken file is told."""
    shop, schedule = sample_shop(), sample_schedule()
    told: list[str] = []
    files = write_feeds(WorkWords(shop, schedule), tmp_path, told.append)
    before = {path.name: path.read_bytes() for path in files}
    write_feeds(WorkWords(shop, schedule), tmp_path, told.append)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before
    assert told == []
    fewer = shop.model_copy(update={"orders": shop.orders[1:]})
    del fewer.__dict__["order_by_id"]
    left = schedule.model_copy(update={"work": tuple(w for w in schedule.work if w.order_id != "O1")})
    (tmp_path / "person-ana.ics").write_bytes(b"BEGIN:VCALENDAR\r\nnothing")
    write_feeds(WorkWords(fewer, left), tmp_path, told.append)
    assert {str(e["STATUS"]) for e in events_of((tmp_path / "order-O1.ics").read_bytes())} == {"CANCELLED"}
    assert len(told) == 1
    Calendar.from_ical((tmp_path / "order-O1.ics").read_bytes())
    assert "person-ana.ics cannot be read" in told[0]
    assert events_of((tmp_path / "person-ana.ics").read_bytes())
