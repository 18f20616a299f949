"""Bars as traces of plotly.js: one for each mark and panel, with its hatching; ``base`` and length in milliseconds."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, Final

from scheduler.documents.charts.bars import Bar
from scheduler.documents.charts.panels import Panel
from scheduler.documents.step_marks import INK, STEP_MARKS, StepMark

if TYPE_CHECKING:
    import plotly.graph_objects as go

STRIPS: Final[Mapping[str, StepMark]] = {
    "weather": StepMark("", "Weather closed for spraying", ".", "#eef0f1"),
    "shut": StepMark("", "Shut or away", "x", "#e3e3e3"),
    "stay": StepMark("", "Unit stands in the bay", "", "#f8f4ea"),
}
MARKS: Final[Mapping[str, StepMark]] = {**STRIPS, **{step.value: mark for step, mark in STEP_MARKS.items()}}
"""Drawn in this order: strips lie behind steps."""

MOST_TEXTS: Final = 300
_FULL: Final = (-0.5, 1.0)
_SHAPES: Final = {"weather": _FULL, "shut": _FULL, "stay": (-0.44, 0.36)}


def bar_traces(bars: Iterable[Bar], panel: Panel, step_shape: tuple[float, float]) -> "list[go.Bar]":
    """Traces of the bars of one panel.

    Parameters
    ----------
    bars : iterable of Bar
    panel : Panel
        Whose axes they stand on.
    step_shape : (float, float)
        Where in its row, 1 high, the bar of a step begins (from -0.5) and how high it is.
    """
    import plotly.graph_objects as go

    by_kind: dict[str, list[Bar]] = {kind: [] for kind in MARKS}
    for bar in bars:
        by_kind[bar.kind].append(bar)
    made = ((kind, group) for kind, group in by_kind.items() if group)
    return [go.Bar(**_trace(kind, group, panel, _SHAPES.get(kind, step_shape))) for kind, group in made]


def _trace(kind: str, bars: list[Bar], panel: Panel, shape: tuple[float, float]) -> dict[str, Any]:
    mark = MARKS[kind]
    return {
        "orientation": "h",
        "base": [bar.start_ms for bar in bars],
        "x": [bar.span_ms for bar in bars],
        "y": [bar.row for bar in bars],
        "text": [bar.text for bar in bars],
        "hovertext": [bar.hover for bar in bars],
        "hoverinfo": "text",
        "offset": shape[0],
        "width": shape[1],
        "name": f"{mark.letter} {mark.label}".strip(),
        "meta": kind,
        "showlegend": False,
        "xaxis": f"x{panel.suffix}",
        "yaxis": f"y{panel.suffix}",
        "textposition": "inside" if any(bar.text for bar in bars) else "none",
        "insidetextanchor": "start" if kind in STRIPS else "middle",
        "textangle": 0,
        "constraintext": "none",
        "textfont": {"color": INK, "size": 11},
        "marker": _marker(kind, mark),
    }


def _marker(kind: str, mark: StepMark) -> dict[str, Any]:
    faint = kind in ("weather", "shut")
    return {
        "color": mark.fill,
        "line": {"color": "#8a9299" if kind in STRIPS else INK, "width": 0 if faint else 0.8},
        "pattern": {
            "shape": mark.hatch,
            "fgcolor": "#8a9299" if faint else INK,
            "fgopacity": 0.7 if faint else 0.45,
            "size": 5,
            "solidity": 0.18,
            "fillmode": "overlay",
        },
    }
