"""The file of events: what is whole counts, what is torn loses nothing before it, what was changed is told."""

import os
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.record.events import ADAPTER, AnyEvent, Arrived, Finished, Reading, Stopped, fingerprint, sealed
from scheduler.record.events_file import TORN_FILE, add_lines, events_from, read_events
from scheduler.record.lock import EVENTS_FILE, LOCK_FILE, LockedError, only_writer

NOON = datetime(2026, 3, 29, 12, tzinfo=UTC)


def _events(count: int) -> list[AnyEvent]:
    """Events of several kinds, with letters of more than one byte in them."""
    found: list[AnyEvent] = []
    for n in range(count):
        when = {"happened_at": NOON + timedelta(minutes=n), "recorded_at": NOON, "by": "Zoë", "note": "größer als 3 µm"}
        event = (
            Finished(unit_id=f"U{n}", step="coat-1", **when),
            Stopped(unit_id=f"U{n}", step="abrade", why="Grübelei", **when),
            Reading(unit_id=f"U{n}", steel_c=14.2, dft_um=(400.0, 395.5), **when),
            Arrived(unit_id=f"U{n}", **when),
        )[n % 4]
        found.append(sealed(event))
    return found


WHOLE = b"".join(ADAPTER.dump_json(event) + b"\n" for event in _events(6))


@given(st.integers(0, len(WHOLE)))
def test_a_file_cut_anywhere_holds_the_events_of_its_whole_lines(cut: int) -> None:
    """None before the cut is lost, none is made up, and what is torn is kept as it is."""
    found = events_from(WHOLE[:cut])
    lines = WHOLE[:cut].count(b"\n")
    assert list(found.events) == _events(6)[:lines]
    assert not found.bad_lines
    assert found.torn == WHOLE[:cut].rpartition(b"\n")[2]


@given(st.integers(0, len(WHOLE) - 1), st.binary(min_size=1, max_size=3))
def test_damage_in_one_place_costs_no_other_line(place: int, damage: bytes) -> None:
    """Bytes written over somewhere: the events of all other lines are there."""
    spoilt = WHOLE[:place] + damage + WHOLE[place + len(damage) :]
    touched = {WHOLE[:p].count(b"\n") for p in range(place, place + len(damage) + 1)}
    kept = [event for n, event in enumerate(_events(6)) if n not in touched]
    found = events_from(spoilt)
    assert [event for event in found.events if event in kept] == kept


def test_a_torn_end_is_put_aside_before_more_is_added(tmp_path: Path) -> None:
    """The next event stands on a line of its own, and the torn bytes are in a file beside."""
    one, two = _events(2)
    add_lines(tmp_path, [one])
    with (tmp_path / EVENTS_FILE).open("ab") as file:
        file.write(b'{"version":"1","id":"12')
    assert read_events(tmp_path).torn == b'{"version":"1","id":"12'
    add_lines(tmp_path, [two])
    assert read_events(tmp_path).events == (one, two)
    assert read_events(tmp_path).torn == b""
    assert (tmp_path / TORN_FILE).read_bytes() == b'{"version":"1","id":"12\n'


def test_a_line_changed_by_hand_does_not_count_and_is_named(tmp_path: Path) -> None:
    """Its id is a fingerprint of what it said."""
    add_lines(tmp_path, _events(3))
    path = tmp_path / EVENTS_FILE
    path.write_bytes(path.read_bytes().replace(b'"unit_id":"U1"', b'"unit_id":"U9"'))
    found = read_events(tmp_path)
    assert [event.id for event in found.events] == [_events(3)[0].id, _events(3)[2].id]
    assert [(bad.line, "changed by hand" in bad.problem) for bad in found.bad_lines] == [(2, True)]


def test_the_same_line_twice_is_one_event(tmp_path: Path) -> None:
    """Whoever copied it."""
    add_lines(tmp_path, _events(1))
    add_lines(tmp_path, _events(1))
    assert len(read_events(tmp_path).events) == 1


def test_the_fingerprint_is_of_the_fact_and_not_of_the_telling() -> None:
    """Another reporter, another time of recording, another way to write the same instant: the same event."""
    one = Arrived(unit_id="U1", happened_at=NOON, recorded_at=NOON, by="Zoë")
    same = Arrived(
        unit_id="U1", happened_at=datetime.fromisoformat("2026-03-29T14:00+02:00"), recorded_at=NOON + timedelta(days=1)
    )
    other = Arrived(unit_id="U1", happened_at=NOON + timedelta(minutes=1), recorded_at=NOON)
    assert fingerprint(one) == fingerprint(same) != fingerprint(other)


def test_a_failed_write_leaves_the_file_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk is full after half a line: what was there is there, and no more."""
    one, two = _events(2)
    add_lines(tmp_path, [one])
    before = (tmp_path / EVENTS_FILE).read_bytes()
    real = os.write

    def half(handle: int, data: bytes) -> int:
        if len(data) < 20:
            raise OSError(28, "No space left on device")
        return real(handle, bytes(data)[: len(data) // 2])

    monkeypatch.setattr(os, "write", half)
    with pytest.raises(OSError, match="No space"):
        add_lines(tmp_path, [two])
    assert (tmp_path / EVENTS_FILE).read_bytes() == before


def test_one_writer_at_a_time(tmp_path: Path) -> None:
    """A second one waits, and gives up with a sentence."""
    path, seen = tmp_path / LOCK_FILE, []

    def second() -> None:
        try:
            with only_writer(path, patience_s=0.05):
                seen.append("in")
        except LockedError as error:
            seen.append(str(error))

    with only_writer(path):
        thread = threading.Thread(target=second)
        thread.start()
        thread.join()
    assert len(seen) == 1
    assert "somebody else is recording" in seen[0]
    with only_writer(path, patience_s=0.05):
        pass
