"""Loads as stepped lines: what there is as a heavy line, what is in use as a hatched area below it."""

from typing import TYPE_CHECKING, Any, Final

from scheduler.documents.charts.loads import Level, Load
from scheduler.documents.charts.panels import Panel
from scheduler.documents.local_time import LocalTime
from scheduler.documents.reading_units import Scale
from scheduler.documents.step_marks import INK

if TYPE_CHECKING:
    import plotly.graph_objects as go

_IN_USE: Final = "#2f6f8f"


def load_traces(
    load: Load, panel: Panel, time: LocalTime, words: tuple[str, str], scale: Scale | None = None
) -> "list[go.Scatter]":
    """Two traces of a load.

    Parameters
    ----------
    load : Load
    panel : Panel
        Whose axes they stand on.
    time : LocalTime
        Wall time of the axis.
    words : (str, str)
        What is in use and what there is, in words.
    scale : Scale, optional
        Unit that people read; none for counts.
    """
    import plotly.graph_objects as go

    used = _line(load.in_use, panel, time, words[0], scale)
    used |= {"fill": "tozeroy", "fillcolor": "#dbe8ee", "line": {"color": _IN_USE, "width": 1.2, "shape": "hv"}}
    used["fillpattern"] = {"shape": "/", "fgcolor": _IN_USE, "bgcolor": "#eef4f7", "size": 6, "solidity": 0.2}
    there = _line(load.there, panel, time, words[1], scale)
    there["line"] = {"color": INK, "width": 2, "shape": "hv"}
    return [go.Scatter(**used), go.Scatter(**there)]


def _line(level: Level, panel: Panel, time: LocalTime, words: str, scale: Scale | None) -> dict[str, Any]:
    values = [scale.reading(value) if scale else value for value in level.values]
    unit = f" {scale.symbol}" if scale else ""
    return {
        "x": [time.axis_ms(moment) for moment in level.moments],
        "y": [round(value, 2) for value in values],
        "hovertext": [
            f"{words}: {value:g}{unit} from {time.text(moment)}"
            for moment, value in zip(level.moments, [round(v, 1) for v in values], strict=True)
        ],
        "hoverinfo": "text",
        "mode": "lines",
        "name": words,
        "meta": "load",
        "showlegend": False,
        "xaxis": f"x{panel.suffix}",
        "yaxis": f"y{panel.suffix}",
    }
