"""Sweep lines against counting minute by minute."""

from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from tiny_shop import ZONE

from scheduler.check.moments import Stretch, minutes_by_day, shared_min
from scheduler.check.sweep import Claim, meetings, overlaps, overloads

ZERO = datetime(2025, 6, 2, tzinfo=UTC)
spans = st.lists(st.tuples(st.integers(0, 20), st.integers(0, 8), st.integers(1, 3)), max_size=8)
QUICK = settings(max_examples=60, deadline=None)


def _claims(rows: list[tuple[int, int, int]]) -> list[Claim[int]]:
    return [Claim(_at(start), _at(start + length), float(size), n) for n, (start, length, size) in enumerate(rows)]


def _at(minute: int) -> datetime:
    return ZERO + timedelta(minutes=minute)


def _load(claims: list[Claim[int]], minute: int) -> float:
    return sum(c.size for c in claims if c.start <= _at(minute) < c.end)


@given(spans, st.integers(0, 6))
@QUICK
def test_overloads_are_the_runs_of_minutes_above_the_capacity(rows: list[tuple[int, int, int]], capacity: int) -> None:
    """Start and height of every overload equal those found minute by minute."""
    claims = _claims(rows)
    counted, above = [], False
    for minute in range(30):
        load = _load(claims, minute)
        if load > capacity and not above:
            counted.append([_at(minute), load])
        elif load > capacity:
            counted[-1][1] = max(counted[-1][1], load)
        above = load > capacity
    assert [[o.at, o.load] for o in overloads(claims, float(capacity))] == counted


@given(spans, st.integers(0, 6))
@QUICK
def test_the_holders_of_an_overload_hold_its_highest_load(rows: list[tuple[int, int, int]], capacity: int) -> None:
    """The claims that an overload names add up to the load that it states."""
    claims = _claims(rows)
    for overload in overloads(claims, float(capacity)):
        assert sum(claims[n].size for n in overload.holders) == overload.load


@given(spans)
@QUICK
def test_overlaps_are_found_where_two_claims_share_a_minute(rows: list[tuple[int, int, int]]) -> None:
    """There is a pair exactly when some minute is held twice, and each pair does share time."""
    claims = [claim for claim in _claims(rows) if claim.start < claim.end]
    pairs = list(overlaps(claims))
    twice = any(sum(c.start <= _at(m) < c.end for c in claims) > 1 for m in range(30))
    assert bool(pairs) == twice
    assert all(max(a.start, b.start) < min(a.end, b.end) for a, b in pairs)


@given(spans, spans)
@QUICK
def test_meetings_are_all_pairs_that_share_a_minute(ones: list[tuple[int, int, int]], others: list[tuple[int, int, int]]) -> None:
    """Every pair of one kind and the other that shares time, each once and the right way round."""
    left, right = _claims(ones), _claims(others)
    found = sorted((a.holder, b.holder) for a, b in meetings(left, right) if a.holder is not None and b.holder is not None)
    shared = [(a.holder, b.holder) for a in left for b in right if max(a.start, b.start) < min(a.end, b.end)]
    assert found == sorted(shared)
    assert all(a in left for a, _ in meetings(left, right))


@given(st.tuples(st.integers(0, 30), st.integers(0, 15)), st.lists(st.tuples(st.integers(1, 5), st.integers(1, 5)), max_size=5))
@QUICK
def test_minutes_shared_with_stretches_are_those_counted(span: tuple[int, int], gaps: list[tuple[int, int]]) -> None:
    """Minutes of a span inside stretches with gaps between them, against counting."""
    edge, stretches = 0, []
    for gap, length in gaps:
        stretches.append(Stretch(_at(edge + gap), _at(edge + gap + length)))
        edge += gap + length
    one = Stretch(_at(span[0]), _at(sum(span)))
    counted = sum(any(s.start <= _at(m) < s.end for s in stretches) for m in range(span[0], sum(span)))
    assert shared_min(one, stretches) == counted


def test_minutes_by_day_split_at_local_midnight_on_a_day_of_25_hours() -> None:
    """From noon on 25 October to noon on the 27th in Berlin: 12 h, 25 h (the clocks go back) and 12 h."""
    noon = [datetime(2025, 10, day, 12, tzinfo=ZONE).astimezone(UTC) for day in (25, 27)]
    assert [m / 60 for _, m in minutes_by_day(Stretch(noon[0], noon[1]), ZONE)] == [12, 25, 12]
