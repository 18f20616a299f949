"""Marks of the steps: colour is never needed to tell them apart, and letters can be read on every fill."""

import pytest

from scheduler.documents.charts.legend import legend
from scheduler.documents.words.step_marks import HATCH_PATHS, INK, MARKS, STEP_MARKS, StepMark
from scheduler.shop.methods import Step


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_every_step_has_a_mark_that_does_not_rest_on_colour() -> None:
    """Letters are unique; inside a fill the hatchings are unique too, so that colour is never needed to tell steps apart."""
    assert set(STEP_MARKS) == set(Step)
    assert len({mark.letter for mark in STEP_MARKS.values()}) == len(STEP_MARKS)
    assert len({(mark.fill, mark.hatch) for mark in MARKS.values()}) == len(MARKS)


@pytest.mark.parametrize("mark", MARKS.values(), ids=lambda mark: mark.label)
def test_letters_stand_out_from_their_fill(mark: StepMark) -> None:
    """Contrast of ink on every fill is at least 7 to 1 (WCAG 2.2, 1.4.6)."""
    assert (luminance(mark.fill) + 0.05) / (luminance(INK) + 0.05) >= 7


def test_every_hatching_has_a_path() -> None:
    """A picture can be drawn of each mark without plotly.js."""
    assert {mark.hatch for mark in MARKS.values()} <= set(HATCH_PATHS)


def test_the_legend_names_what_is_used_in_drawing_order() -> None:
    """Strips first, then steps; what is not used is left out."""
    assert [mark["label"] for mark in legend(["coat", "wash", "stay"])] == ["Unit stands in the bay", "Wash", "Coat"]
