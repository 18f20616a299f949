"""Hours of workers against a plain recount, through any run of bookings taken and given back."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.activities.masks import below, bits, span
from scheduler.search import hours as module
from scheduler.search.hours import FREE, Hours

SLOTS, A_DAY, LONGEST = 40, 10, 6
BOOKINGS = st.lists(st.tuples(st.integers(0, SLOTS - 1), st.integers(1, LONGEST), st.booleans()), max_size=40)
Row = tuple[int, int, bool]


@pytest.fixture(params=[10, 15, 192], ids=["a day", "two days", "all"])
def width(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> int:
    """Least width of a stretch: a day each, two days each, the whole axis."""
    monkeypatch.setattr(module, "WIDTH", request.param)
    return int(request.param)


@pytest.mark.usefixtures("width")
@given(bookings=BOOKINGS, limit=st.integers(2, 9), length=st.integers(1, LONGEST))
def test_starts_are_those_of_a_recount(bookings: list[Row], limit: int, length: int) -> None:
    """Free runs, and under a respirator those in a day whose hours suffice; a booking that is there already is given back."""
    day = [slot // A_DAY for slot in range(SLOTS)]
    hours, booked = Hours([below(SLOTS)], [limit], [{}], day, LONGEST), list[Row]()
    for start, slots, masked in bookings:
        end = min(start + slots, SLOTS)
        row = (start, end, masked)
        if row in booked:
            booked.remove(row)
            _change(hours, row, sign=-1)
        elif all(end <= a or b <= start for a, b, _ in booked):
            booked.append(row)
            _change(hours, row, sign=1)
        _compare(hours, booked, limit, length)


def _change(hours: Hours, row: Row, sign: int) -> None:
    start, end, masked = row
    for stretch, worker, mask in hours.entries([(0, start, end)]):
        before = hours.rows[stretch][worker][FREE]
        hours.rows[stretch][worker] = {FREE: before & ~mask if sign > 0 else before | mask}
    for slot in range(start, end) if masked else ():
        hours.worn[0][slot // A_DAY] += sign


def _compare(hours: Hours, booked: list[Row], limit: int, length: int) -> None:
    busy = {slot for a, b, _ in booked for slot in range(a, b)}
    worn = Counter(slot // A_DAY for a, b, masked in booked if masked for slot in range(a, b))
    free = [s for s in range(SLOTS - length + 1) if not busy & set(range(s, s + length))]
    assert bits(hours.free(0)) == sorted(set(range(SLOTS)) - busy)
    assert _starts(hours, length) == free
    in_two = [s for s in free if s // A_DAY != (s + length - 1) // A_DAY]
    enough = [s for s in free if s in in_two or worn[s // A_DAY] + length <= limit]
    assert _starts(hours, -length) == enough
    assert [s for s in free if hours.suffice(0, s, length)] == enough


def _starts(hours: Hours, key: int) -> list[int]:
    """Starts over all stretches, as known where they were worked out before."""
    found = [hours.rows[k][0].get(key, hours.starts(k, 0, key)) << first for k, first in enumerate(hours.first)]
    assert all(not a & b for a in found for b in found if a is not b and a and b)
    return bits(sum(found))


def test_a_run_over_two_stretches_changes_both(monkeypatch: pytest.MonkeyPatch) -> None:
    """What ends in the next stretch is known in both."""
    monkeypatch.setattr(module, "WIDTH", A_DAY)
    hours = Hours([below(20)], [None], [{}], [slot // A_DAY for slot in range(20)], 4)
    assert [(stretch, mask) for stretch, _, mask in hours.entries([(0, 9, 12)])] == [(0, span(9, 12)), (1, span(0, 2))]
