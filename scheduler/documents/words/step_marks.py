"""How each step is marked: a letter, a hatching and a fill, so that no mark rests on colour alone.

Fills are light enough for dark letters (contrast above 7:1) and fall into four families that differ in lightness:
moving is stone, preparing is blue, solvent is rose, coating is ochre. Inside a family the hatching and the letter tell.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from scheduler.shop.methods import Step

INK: Final = "#16242e"
"""Text, outlines and hatching."""


@dataclass(frozen=True, slots=True)
class StepMark:
    """Mark of one step.

    Attributes
    ----------
    letter : str
        One capital, unlike every other.
    label : str
        The step in words.
    hatch : str
        A pattern shape of plotly.js; empty for plain.
    fill : str
        ``#rrggbb``.
    """

    letter: str
    label: str
    hatch: str
    fill: str


STEP_MARKS: Final[Mapping[Step, StepMark]] = MappingProxyType(
    {
        Step.RECEIVE: StepMark("R", "Receive", "/", "#dcd6cb"),
        Step.MOVE_IN: StepMark("I", "Move in", "|", "#dcd6cb"),
        Step.WASH: StepMark("W", "Wash", ".", "#a9cde3"),
        Step.STRIP: StepMark("S", "Strip", "x", "#a9cde3"),
        Step.ABRADE: StepMark("A", "Abrade", "/", "#a9cde3"),
        Step.CUT_OUT: StepMark("K", "Cut out", "+", "#a9cde3"),
        Step.WIPE: StepMark("V", "Solvent wipe", "-", "#efc6d2"),
        Step.PRIME: StepMark("P", "Prime", "\\", "#e9b44c"),
        Step.COAT: StepMark("C", "Coat", "", "#e9b44c"),
        Step.TOUCH_UP: StepMark("T", "Touch up", "+", "#e9b44c"),
        Step.TEXTURE: StepMark("X", "Texture coat", "x", "#e9b44c"),
        Step.INSPECT: StepMark("N", "Inspect", "", "#ffffff"),
        Step.MOVE_OUT: StepMark("O", "Move out", "-", "#dcd6cb"),
        Step.DISPATCH: StepMark("D", "Dispatch", "\\", "#dcd6cb"),
    }
)
STRIPS: Final[Mapping[str, StepMark]] = MappingProxyType(
    {
        "weather": StepMark("", "Weather closed for spraying", ".", "#eef0f1"),
        "shut": StepMark("", "Shut or away", "x", "#e3e3e3"),
        "stay": StepMark("", "Unit stands in the bay", "", "#f8f4ea"),
    }
)
"""What lies behind the steps."""
MARKS: Final[Mapping[str, StepMark]] = MappingProxyType({**STRIPS, **{step.value: mark for step, mark in STEP_MARKS.items()}})
"""Drawn in this order: strips lie behind steps."""
HATCH_PATHS: Final = MappingProxyType(
    {
        "/": "M0 6 L6 0",
        "\\": "M0 0 L6 6",
        "x": "M0 6 L6 0 M0 0 L6 6",
        "|": "M3 0 L3 6",
        "-": "M0 3 L6 3",
        "+": "M3 0 L3 6 M0 3 L6 3",
        ".": "M2.4 3 L3.6 3",
        "": "",
    }
)
"""Each hatching as a path on a tile of 6 by 6, for pictures that plotly.js does not draw."""
