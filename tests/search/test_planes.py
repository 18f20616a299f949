"""Bit-plane counters against a plain array, slot by slot."""

from hypothesis import given
from hypothesis import strategies as st

from scheduler.activities.masks import below, bits, runs, span
from scheduler.search.planes import Planes

SLOTS = 40
USES = st.lists(st.tuples(st.integers(0, SLOTS - 1), st.integers(1, 12), st.integers(1, 9)), max_size=12)


@given(uses=USES, limit=st.integers(0, 40))
def test_counts_and_overfull_slots_are_those_of_an_array(uses: list[tuple[int, int, int]], limit: int) -> None:
    """Add, compare, take half of it back, compare again."""
    planes, plain = Planes(40, below(SLOTS)), [0] * SLOTS
    placed = [(span(a, min(a + d, SLOTS)), n) for a, d, n in uses]
    for mask, amount in placed:
        planes = planes.plus(mask, amount)
        plain = [x + amount * (mask >> s & 1) for s, x in enumerate(plain)]
    assert [planes.count_at(s) for s in range(SLOTS)] == plain
    assert bits(planes.over(limit)) == [s for s, x in enumerate(plain) if x > limit]
    for mask, amount in placed[::2]:
        planes = planes.minus(mask, amount)
        plain = [x - amount * (mask >> s & 1) for s, x in enumerate(plain)]
    assert [planes.count_at(s) for s in range(SLOTS)] == plain


@given(mask=st.integers(0, 2**SLOTS - 1), length=st.integers(1, 10))
def test_runs_are_those_of_an_array(mask: int, length: int) -> None:
    """A run starts where that many set slots follow each other."""
    flags = [mask >> s & 1 for s in range(SLOTS + 10)]
    assert bits(runs(mask, length)) == [s for s in range(SLOTS) if all(flags[s : s + length])]
