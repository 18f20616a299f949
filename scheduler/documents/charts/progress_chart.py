"""How the search went: the best schedule found and the proven bound over time."""

from typing import Any

from scheduler.documents.step_marks import INK
from scheduler.documents.table import Table
from scheduler.schedule.schedule import Provenance


def progress_chart(provenance: Provenance) -> dict[str, Any] | None:
    """Objective and bound over the seconds of the search, as plotly.js takes it; None where nothing was recorded."""
    if not provenance.progress:
        return None
    at = [point.at_s for point in provenance.progress]
    found = _line(at, [p.objective for p in provenance.progress], "best schedule found", {"width": 2, "shape": "hv"})
    bound = _line(at, [p.bound for p in provenance.progress], "proven bound", {"width": 2, "dash": "dot", "shape": "hv"})
    return {"data": [found, bound], "layout": _layout()}


def progress_table(provenance: Provenance) -> Table:
    """Points of the search's history."""
    rows = tuple((f"{p.at_s:.1f} s", f"{p.objective:,.2f}", f"{p.bound:,.2f}") for p in provenance.progress)
    return Table("Progress of the search", ("after", "best schedule found", "proven bound"), rows)


def _line(at: list[float], values: list[float], name: str, line: dict[str, Any]) -> dict[str, Any]:
    plain = {"type": "scatter", "x": at, "y": values, "name": name, "hovertemplate": "%{y:.2f} after %{x:.1f} s"}
    marker = {"symbol": "circle" if "dash" not in line else "diamond-open", "size": 7, "color": INK}
    return plain | {"mode": "lines+markers", "line": line | {"color": INK}, "marker": marker}


def _layout() -> dict[str, Any]:
    axis = {"gridcolor": "#d5d9dc", "zerolinecolor": "#d5d9dc", "fixedrange": True, "automargin": True}
    return {
        "height": 260,
        "margin": {"l": 8, "r": 8, "t": 8, "b": 40},
        "font": {"family": "system-ui, 'Liberation Sans', 'DejaVu Sans', sans-serif", "size": 12, "color": INK},
        "paper_bgcolor": "#ffffff",
        "plot_bgcolor": "#ffffff",
        "legend": {"orientation": "h", "x": 0, "y": 1.02, "yanchor": "bottom"},
        "xaxis": axis | {"title": {"text": "seconds of search"}, "rangemode": "tozero"},
        "yaxis": axis,
    }
