"""How the search went: the best schedule found, the proven bound and the gap between them over time."""

from collections.abc import Sequence
from typing import Any, Final

from scheduler.documents.words.goal_words import GOAL_WORDS
from scheduler.documents.words.step_marks import INK
from scheduler.documents.words.table import Table
from scheduler.schedule.schedule import Progress, Schedule

_GRID: Final = "#d5d9dc"
_BAND: Final = {
    "fill": "tonexty",
    "fillcolor": "#e6eff4",
    "fillpattern": {"shape": "/", "fgcolor": "#7d868d", "size": 6, "solidity": 0.15},
}


def progress_points(schedule: Schedule) -> tuple[Progress, ...]:
    """The course of the first goal; the last point is the end of the search, with the goal as the check measured it."""
    found, last = schedule.provenance, schedule.goals[0] if schedule.goals else None
    points = tuple(point for point in found.progress if point.at_s <= found.search_s)
    if not points or last is None:
        return found.progress
    return (
        *points,
        Progress(at_s=found.search_s, objective=last.value, bound=points[-1].bound if last.bound is None else last.bound),
    )


def progress_chart(schedule: Schedule) -> dict[str, Any] | None:
    """Objective and bound over the seconds of the search, the gap below, as plotly.js takes it; None if nothing was recorded."""
    points = progress_points(schedule)
    if not points:
        return None
    at = [point.at_s for point in points]
    bound = _line(at, [p.bound for p in points], "proven bound", "dot")
    found = _line(at, [p.objective for p in points], "best schedule found") | _BAND
    gap = _line(at, [round(100 * _gap(p), 2) for p in points], "gap") | {"yaxis": "y2", "showlegend": False}
    gap |= {"hovertemplate": "gap %{y:.1f} % after %{x:.1f} s", "fill": "tozeroy", "fillcolor": "#eef0f1"}
    goal = schedule.goals[0] if schedule.goals else None
    return {"data": [bound, found, gap], "layout": _layout(GOAL_WORDS.get(goal.name, goal.name) if goal else "first goal")}


def progress_table(schedule: Schedule) -> Table:
    """Points of the search's history."""
    rows = tuple(
        (f"{p.at_s:.1f} s", f"{p.objective:,.2f}", f"{p.bound:,.2f}", f"{100 * _gap(p):.1f} %") for p in progress_points(schedule)
    )
    return Table("Progress of the search", ("after", "best schedule found", "proven bound", "gap"), rows)


def _gap(point: Progress) -> float:
    """As in the provenance: what is between the two, of the objective or of 1 where that is more."""
    return max(0.0, point.objective - point.bound) / max(point.objective, 1.0)


def _line(at: Sequence[float], values: Sequence[float], name: str, dash: str = "solid") -> dict[str, Any]:
    plain = {"type": "scatter", "x": list(at), "y": list(values), "name": name, "hovertemplate": "%{y:,.2f} after %{x:.1f} s"}
    marker = {"symbol": "circle" if dash == "solid" else "diamond-open", "size": 6, "color": INK}
    return plain | {"mode": "lines+markers", "line": {"width": 2, "dash": dash, "shape": "hv", "color": INK}, "marker": marker}


def _layout(goal: str) -> dict[str, Any]:
    axis = {"gridcolor": _GRID, "zerolinecolor": _GRID, "fixedrange": True, "automargin": True}
    up = axis | {"rangemode": "tozero", "nticks": 5}
    return {
        "height": 340,
        "margin": {"l": 8, "r": 8, "t": 8, "b": 40},
        "font": {"family": "system-ui, 'Liberation Sans', 'DejaVu Sans', sans-serif", "size": 12, "color": INK},
        "paper_bgcolor": "#ffffff",
        "plot_bgcolor": "#ffffff",
        "legend": {"orientation": "h", "x": 0, "y": 1.02, "yanchor": "bottom", "traceorder": "reversed"},
        "xaxis": axis | {"title": {"text": "seconds of search"}, "rangemode": "tozero", "anchor": "y2"},
        "yaxis": up | {"title": {"text": goal}, "domain": [0.38, 1]},
        "yaxis2": up | {"title": {"text": "gap, %"}, "domain": [0, 0.26], "nticks": 3},
    }
