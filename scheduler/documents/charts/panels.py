"""Panels of the chart, one under the other on one time axis: where each lies and how high it is."""

from dataclasses import dataclass
from typing import Final

ROW_PX: Final = 34
CREW_ROW_PX: Final = 26
LOAD_PX: Final = 96
TITLE_PX: Final = 30
TICKS_PX: Final = 40
TOP_PX: Final = 8


@dataclass(frozen=True, slots=True)
class Panel:
    """One panel.

    Attributes
    ----------
    number : int
        1 on top; the suffix of its axes in plotly.js.
    title : str
        Above it.
    top, bottom : float
        Share of the drawing height, 1 on top.
    """

    number: int
    title: str
    top: float
    bottom: float

    @property
    def suffix(self) -> str:
        """Suffix of its axes: the first has none."""
        return "" if self.number == 1 else str(self.number)


@dataclass(frozen=True, slots=True)
class Stack:
    """All panels and the height of the drawing, in pixels, without its margins."""

    panels: tuple[Panel, ...]
    height_px: int


def stack(titles: tuple[str, ...], heights_px: tuple[int, ...]) -> Stack:
    """Lay panels one under the other, each with room for its title above and its clock below.

    Parameters
    ----------
    titles : tuple of str
    heights_px : tuple of int
        As many, of the drawing in each panel.
    """
    whole = sum(heights_px) + len(heights_px) * (TITLE_PX + TICKS_PX)
    panels, down = [], 0
    for number, (title, height) in enumerate(zip(titles, heights_px, strict=True), start=1):
        top = down + TITLE_PX
        panels.append(Panel(number, title, 1 - top / whole, 1 - (top + height) / whole))
        down = top + height + TICKS_PX
    return Stack(tuple(panels), whole)
