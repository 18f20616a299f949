"""Hours of a worker against a plain recount, through any run of bookings taken and given back."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from scheduler.activities.masks import below, bits, span
from scheduler.search.hours import Days, Hours

SLOTS, A_DAY = 40, 10
BOOKINGS = st.lists(st.tuples(st.integers(0, SLOTS - 1), st.integers(1, 6), st.booleans()), max_size=40)
DAYS = Days([span(day * A_DAY, (day + 1) * A_DAY) for day in range(SLOTS // A_DAY)])


def _worn(start: int, end: int) -> tuple[tuple[int, int], ...]:
    return tuple(Counter(slot // A_DAY for slot in range(start, end)).items())


@given(bookings=BOOKINGS, limit=st.integers(2, 9), length=st.integers(1, 5))
def test_starts_are_those_of_a_recount(bookings: list[tuple[int, int, bool]], limit: int, length: int) -> None:
    """Free runs, and under a respirator those in a day whose hours suffice; a booking that is there already is given back."""
    hours, booked = Hours(below(SLOTS), limit, {}, DAYS), list[tuple[int, int, bool]]()
    for start, slots, masked in bookings:
        end = min(start + slots, SLOTS)
        row, worn = (start, end, masked), _worn(start, end) if masked else ()
        if row in booked:
            booked.remove(row)
            hours = hours.give(span(start, end), worn)
        elif all(end <= a or b <= start for a, b, _ in booked):
            booked.append(row)
            hours = hours.take(span(start, end), worn)
        _compare(hours, booked, limit, length)


def _compare(hours: Hours, booked: list[tuple[int, int, bool]], limit: int, length: int) -> None:
    busy = {slot for a, b, _ in booked for slot in range(a, b)}
    worn = Counter(slot // A_DAY for a, b, masked in booked if masked for slot in range(a, b))
    free = [s for s in range(SLOTS - length + 1) if not busy & set(range(s, s + length))]
    assert bits(hours.work_out(length)) == free
    in_two = [s for s in free if s // A_DAY != (s + length - 1) // A_DAY]
    enough = [s for s in free if s in in_two or worn[s // A_DAY] + length <= limit]
    assert bits(hours.work_out(-length)) == enough
