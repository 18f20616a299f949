"""Handing out what is alike: never two uses in one place, never more cartridges than slots."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.activities.hand_out import NothingFreeError, Use, hand_out

QUICK = settings(max_examples=80, deadline=None)
SPANS = st.tuples(st.integers(0, 20), st.integers(1, 8)).map(lambda p: (p[0], p[0] + p[1]))
USES = st.lists(SPANS, max_size=7).map(lambda spans: [Use(i, a, b) for i, (a, b) in enumerate(spans)])


def _meet(a: tuple[int, int], b: tuple[int, int]) -> bool:
    return a[0] < b[1] and b[0] < a[1]


def _depth(uses: list[Use]) -> int:
    return max((sum(u.start <= t < u.end for u in uses) for t in range(40)), default=0)


@QUICK
@given(uses=USES)
def test_as_many_items_as_meet_at_once_are_enough(uses: list[Use]) -> None:
    """Intervals that are never more than k deep need k items, and one less is refused."""
    items = [f"i{n}" for n in range(_depth(uses))]
    given_to = hand_out(uses, items)
    for one, two in itertools.combinations(uses, 2):
        assert given_to[one.key] != given_to[two.key] or not _meet((one.start, one.end), (two.start, two.end))
    if items:
        with pytest.raises(NothingFreeError):
            hand_out(uses, items[1:])


@QUICK
@given(uses=USES, shut=st.lists(st.tuples(st.integers(0, 2), SPANS), max_size=3))
def test_with_items_out_of_service_it_finds_a_way_wherever_there_is_one(
    uses: list[Use], shut: list[tuple[int, tuple[int, int]]]
) -> None:
    """Against trying every assignment to three items."""
    items = ["a", "b", "c"]
    closed = {item: tuple(span for n, span in shut if items[n] == item) for item in items}

    def works(choice: tuple[str, ...]) -> bool:
        rows = list(zip(uses, choice, strict=True))
        apart = all(x != y or not _meet((u.start, u.end), (v.start, v.end)) for (u, x), (v, y) in itertools.combinations(rows, 2))
        return apart and not any(_meet((u.start, u.end), span) for u, x in rows for span in closed[x])

    if any(works(choice) for choice in itertools.product(items, repeat=len(uses))):
        given_to = hand_out(uses, items, closed)
        assert works(tuple(given_to[use.key] for use in uses))
    else:
        with pytest.raises(NothingFreeError):
            hand_out(uses, items, closed)


def test_a_gun_keeps_its_product() -> None:
    """The third use finds both guns free and takes the one with its product, not the first."""
    uses = [Use(1, 0, 2, "primer"), Use(2, 0, 2, "lining"), Use(3, 2, 4, "lining"), Use(4, 4, 5, "primer")]
    assert hand_out(uses, ["G1", "G2"]) == {1: "G1", 2: "G2", 3: "G2", 4: "G1"}


def test_what_was_told_is_kept_and_left_to_whom_it_was_told() -> None:
    """Two places alike: the second unit was told the first place and gets it; one that was told nothing stays off."""
    uses = [Use(1, 0, 5), Use(2, 2, 8, told="a"), Use(3, 9, 12, told="b")]
    assert hand_out(uses, ["a", "b"]) == {1: "b", 2: "a", 3: "b"}


def test_what_was_told_and_is_taken_gives_way() -> None:
    """Both were told the same place at the same time: the second takes the other one."""
    uses = [Use(1, 0, 5, told="a"), Use(2, 2, 8, told="a")]
    assert hand_out(uses, ["a", "b"]) == {1: "a", 2: "b"}
