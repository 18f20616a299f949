"""Masks against sets of slots."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.activities.flags import mask_of
from scheduler.activities.masks import below, bits, highest, lowest, runs, span

QUICK = settings(max_examples=60, deadline=None)
SLOTS = st.sets(st.integers(0, 70), max_size=40)


def _mask(slots: set[int]) -> int:
    return sum(1 << slot for slot in slots)


@QUICK
@given(slots=SLOTS)
def test_bits_and_flags_are_the_set(slots: set[int]) -> None:
    """A mask gives back the slots it was made of, whichever way it was made."""
    flags = np.array([slot in slots for slot in range(71)])
    assert mask_of(flags) == _mask(slots)
    assert bits(_mask(slots)) == sorted(slots)


@QUICK
@given(slots=SLOTS.filter(bool))
def test_ends_are_least_and_greatest(slots: set[int]) -> None:
    """Lowest and highest bit are the first and last slot."""
    assert (lowest(_mask(slots)), highest(_mask(slots))) == (min(slots), max(slots))


@QUICK
@given(first=st.integers(0, 40), last=st.integers(-3, 45))
def test_a_span_is_half_open_and_empty_if_reversed(first: int, last: int) -> None:
    """As a range; below an end at or before 0 there is nothing."""
    assert bits(span(first, last)) == list(range(first, last))
    assert bits(below(last)) == list(range(last))


@QUICK
@given(slots=SLOTS, length=st.integers(1, 12))
def test_a_run_starts_where_all_its_slots_are_set(slots: set[int], length: int) -> None:
    """Doubling finds the same starts as looking at every slot."""
    assert bits(runs(_mask(slots), length)) == [s for s in range(71) if all(s + k in slots for k in range(length))]
