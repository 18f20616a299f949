"""Names of packs and slots in few words."""

import pytest

from scheduler.documents.words.pack_names import number_runs, pack_names


@pytest.mark.parametrize(
    ("ids", "names"),
    [
        ((), ()),
        (("L#001",), ("L#001",)),
        (("L#001", "L#002"), ("L#001, #002",)),
        (("L#009", "L#010", "L#011"), ("L#009 to #011",)),
        (("L#001", "L#003"), ("L#001, #003",)),
        (("L#007", "L#002", "L#003", "L#004"), ("L#007, #002 to #004",)),
        (("O-1", "L#001", "M#002"), ("O-1", "L#001", "M#002")),
        (("L#001", "L#001"), ("L#001",)),
    ],
)
def test_packs_that_follow_one_another_are_named_together(ids: tuple[str, ...], names: tuple[str, ...]) -> None:
    """Only within a lot, only without a gap; each once."""
    assert pack_names(ids) == names


@pytest.mark.parametrize(("numbers", "text"), [((), ""), ((3,), "3"), ((1, 2), "1, 2"), ((4, 2, 3, 7), "2 to 4, 7")])
def test_slots_in_a_row_are_named_together(numbers: tuple[int, ...], text: str) -> None:
    """Whatever their order."""
    assert number_runs(numbers) == text
