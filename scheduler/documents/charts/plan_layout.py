"""Layout of the chart: axes of each panel, titles, shading of times in which nobody is there, the end of the forecast."""

from collections.abc import Iterable
from datetime import datetime
from typing import Any, Final

from scheduler.documents.charts.panels import TOP_PX, Panel, Stack
from scheduler.documents.charts.rows import Rows
from scheduler.documents.step_marks import INK
from scheduler.documents.work_words import WorkWords
from scheduler.shop.working_time import Span

FONT: Final = "system-ui, 'Liberation Sans', 'DejaVu Sans', sans-serif"
_GRID: Final = "#d5d9dc"
_CLOSED: Final = "#e6e8ea"
_TICKS: Final = (
    {"dtickrange": [None, 86399999], "value": "%H:%M\n%a %-d %b"},
    {"dtickrange": [86400000, None], "value": "%a %-d %b"},
)


def plan_layout(words: WorkWords, rows: Rows, panels: Stack, closed: Iterable[Span]) -> dict[str, Any]:
    """Layout for the traces of a plan.

    Parameters
    ----------
    words : WorkWords
    rows : Rows
        Labels of the first two panels.
    panels : Stack
    closed : iterable of (start, end)
        Times in which nobody is there.
    """
    layout: dict[str, Any] = {
        "template": "none",
        "barmode": "overlay",
        "height": panels.height_px + TOP_PX,
        "margin": {"l": 8, "r": 8, "t": TOP_PX, "b": 0},
        "font": {"family": FONT, "size": 12, "color": INK},
        "paper_bgcolor": "#ffffff",
        "plot_bgcolor": "#ffffff",
        "hoverlabel": {"bgcolor": "#ffffff", "bordercolor": INK, "font": {"color": INK, "size": 12}, "align": "left"},
        "showlegend": False,
        "dragmode": "zoom",
        "shapes": [*(_shade(words, *span) for span in closed), *(_forecast_line(at) for at in _forecast_end(words))],
        "annotations": [*(_title(panel) for panel in panels.panels), *(_forecast_note(at) for at in _forecast_end(words))],
    }
    for panel in panels.panels:
        layout[f"xaxis{panel.suffix}"] = _time_axis(panel)
    for panel, labels in zip(panels.panels, (rows.bay_labels, rows.crew_labels), strict=False):
        layout[f"yaxis{panel.suffix}"] = _row_axis(panel, labels)
    for panel in panels.panels[2:]:
        layout[f"yaxis{panel.suffix}"] = _value_axis(panel)
    return layout


def _time_axis(panel: Panel) -> dict[str, Any]:
    axis = {
        "type": "date",
        "anchor": f"y{panel.suffix}",
        "tickformatstops": list(_TICKS),
        "gridcolor": _GRID,
        "ticks": "outside",
        "tickcolor": _GRID,
        "tickangle": 0,
        "hoverformat": "%a %-d %b %H:%M",
    }
    return axis if panel.number == 1 else axis | {"matches": "x"}


def _row_axis(panel: Panel, labels: tuple[str, ...]) -> dict[str, Any]:
    return {
        "domain": [panel.bottom, panel.top],
        "anchor": f"x{panel.suffix}",
        "range": [len(labels) - 0.5, -0.5],
        "tickvals": list(range(len(labels))),
        "ticktext": list(labels),
        "automargin": True,
        "fixedrange": True,
        "gridcolor": _GRID,
        "zeroline": False,
        "showline": True,
        "linecolor": _GRID,
    }


def _value_axis(panel: Panel) -> dict[str, Any]:
    return {
        "domain": [panel.bottom, panel.top],
        "anchor": f"x{panel.suffix}",
        "rangemode": "tozero",
        "fixedrange": True,
        "gridcolor": _GRID,
        "nticks": 4,
        "automargin": True,
        "zerolinecolor": _GRID,
    }


def _title(panel: Panel) -> dict[str, Any]:
    return {
        "text": f"<b>{panel.title}</b>",
        "x": 0,
        "xref": "paper",
        "xanchor": "left",
        "y": panel.top,
        "yref": "paper",
        "yanchor": "bottom",
        "yshift": 4,
        "showarrow": False,
        "font": {"size": 13, "color": INK},
    }


def _shade(words: WorkWords, start: datetime, end: datetime) -> dict[str, Any]:
    first, length = words.time.axis_span_ms(start, end)
    across = {"xref": "x", "x0": first, "x1": first + length, "yref": "paper", "y0": 0, "y1": 1}
    return across | {"type": "rect", "layer": "below", "fillcolor": _CLOSED, "line": {"width": 0}}


def _forecast_end(words: WorkWords) -> list[int]:
    until, site = words.schedule.forecast_until, words.shop.site
    return [words.time.axis_ms(until)] if until and site.plan_from < until < site.plan_until else []


def _forecast_line(at_ms: int) -> dict[str, Any]:
    across = {"xref": "x", "x0": at_ms, "x1": at_ms, "yref": "paper", "y0": 0, "y1": 1}
    return across | {"type": "line", "line": {"color": INK, "width": 1.5, "dash": "dot"}}


def _forecast_note(at_ms: int) -> dict[str, Any]:
    at = {"x": at_ms, "xref": "x", "xanchor": "left", "y": 1, "yref": "paper", "yanchor": "top", "showarrow": False}
    return at | {"text": "forecast ends, typical year from here", "font": {"size": 11, "color": INK}}
