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
