"""What is saved by one thing more: proven by bounds, agreed on by two searches, or perhaps luck."""

from dataclasses import replace

import pytest

from scheduler.cli.what_if import _verdict
from scheduler.replan.savings import Helped, Run, saving, sorted_by_savings
from scheduler.search.value import Value


def _run(late: int, packs: float = 9.0, days: float = 50.0) -> Run:
    return Run(Value(0, late, round(packs * 1e6), 0, 0, 0), days)


def _helped(name: str, *lates: int, floor: int = 0, packs: float = 9.0) -> Helped:
    runs = tuple(_run(late, packs) for late in lates)
    return Helped(name, f"one {name} more", min(runs, default=None), 1.0, runs, (), floor)


PLAIN = _helped("as it is", 40, 44, floor=30)


@pytest.mark.parametrize(
    ("lates", "luck"),
    [((36, 38), True), ((35, 37), False), ((30, 40), True), ((29, 60), False), ((40, 40), False), ((42, 42), False)],
)
def test_a_saving_within_the_difference_of_two_searches_may_be_luck_unless_it_is_proven(
    lates: tuple[int, int], *, luck: bool
) -> None:
    """4 apart as it is: 4 saved may be luck, 5 not, 10 if its own are 10 apart; below the bound of the shop it is proven."""
    found = saving(PLAIN, _helped("gun", *lates))
    assert found is not None
    assert found.may_be_luck(0) == luck


def test_what_can_be_saved_lies_between_the_bounds() -> None:
    """The best plan against the bound of the shop as it is, and the best of that shop against the bound of the one with more."""
    found = saving(PLAIN, _helped("gun", 25, 26, floor=20))
    assert found is not None
    assert (found.saved[0], found.at_least, found.at_most) == (15, 5, 20)
    none = saving(PLAIN, _helped("gun", 40, 40, floor=40))
    assert none is not None
    assert (none.at_least, none.at_most) == (0, 0)
    assert saving(PLAIN, _helped("gun")) is None


def test_what_is_proven_comes_first_then_what_is_more_than_luck_then_the_rest() -> None:
    """A larger saving that may be luck stands behind a smaller one that is not; what went astray saves nothing."""
    rows = [
        _helped("none"),
        _helped("lucky", 32, 41),
        _helped("sure", 35, 35),
        _helped("proven", 29, 60),
        _helped("worse", 50, 50),
    ]
    found = sorted_by_savings(PLAIN, rows)
    assert [row.name for row in found] == ["proven", "sure", "lucky", "none", "worse"]
    assert found[3].best == found[4].best == PLAIN.best


def test_the_sentence_names_what_is_not_told_apart() -> None:
    """Two savings that differ by less than two searches do; a smaller one is left out; luck alone is called that."""
    sure = [_helped("truck", 33, 34), _helped("gun", 35, 35), _helped("bay", 39, 39)]
    text = _verdict(PLAIN, sure)
    assert text.startswith("Most helps one truck more: 7 weighted days late less.")
    assert text.endswith("No more than luck apart from it: one gun more.")
    assert "it may be luck" in _verdict(PLAIN, [_helped("gun", 38, 38)])
    thrifty = _helped("shelf", 38, 38, packs=7.0)
    assert _verdict(PLAIN, [thrifty]).startswith(
        "Nothing that was tried is sure to save days late. Most helps one shelf more: 2 packs"
    )
    assert _verdict(PLAIN, [replace(PLAIN, name="same")]) == "Nothing that was tried helps."
    assert _verdict(PLAIN, [_helped("gun")]) == "No plan was found for any of them."
