"""Smallest clashes and smallest cuts are those of trying every subset; without an answer nothing is called proven."""

from collections.abc import Sequence
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.search.smallest import Clashes, hitting_set, smallest_clash, smallest_cut

ITEMS = "abcdefg"
REASONS = st.lists(st.frozensets(st.sampled_from(ITEMS), min_size=1), min_size=1, max_size=5)


def _by(reasons: Sequence[frozenset[str]]) -> Clashes:
    return lambda items: any(reason <= set(items) for reason in reasons)


@settings(max_examples=50, deadline=None)
@given(REASONS)
def test_no_subset_that_is_smaller_clashes(reasons: list[frozenset[str]]) -> None:
    """Whatever clash is known before."""
    found = smallest_clash(ITEMS, max(reasons, key=len), _by(reasons))
    assert found.proven
    assert len(found.items) == min(map(len, reasons))
    assert frozenset(found.items) in reasons


@settings(max_examples=50, deadline=None)
@given(REASONS)
def test_no_cut_that_is_smaller_ends_all_clashes(reasons: list[frozenset[str]]) -> None:
    """The one found ends them, and it has as few items as the first subset that does."""
    found = smallest_cut(ITEMS, ITEMS, _by(reasons))
    sizes = (
        n for n in range(8) for cut in combinations(ITEMS, n) if not any(reason <= set(ITEMS) - set(cut) for reason in reasons)
    )
    assert found.proven
    assert not _by(reasons)([item for item in ITEMS if item not in found.items])
    assert len(found.items) == next(sizes)


def test_of_sets_as_small_as_each_other_the_first_items_are_preferred() -> None:
    """The first order that is named goes first."""
    assert hitting_set([frozenset("ab"), frozenset("bc")], "cba") == ("b",)
    assert hitting_set([frozenset("ab")], "bca") == ("b",)
    assert hitting_set([], "abc") == ()


@pytest.mark.parametrize("after", [0, 1, 2])
def test_a_question_without_an_answer_proves_nothing(after: int) -> None:
    """What was known is given back as it was."""
    asked: list[Sequence[str]] = []

    def unsure(items: Sequence[str]) -> bool | None:
        asked.append(items)
        return None if len(asked) > after else {"a", "b"} <= set(items)

    for look in (smallest_clash, smallest_cut):
        asked.clear()
        found = look("abc", "abc", unsure)
        assert (found.items, found.proven) == (("a", "b", "c"), False)
