"""How the search went: the best schedule found and the proven bound over time."""

from typing import TYPE_CHECKING, Any

from scheduler.documents.charts.plan_layout import FONT
from scheduler.documents.step_marks import INK
from scheduler.documents.table import Table
from scheduler.schedule.schedule import Provenance

if TYPE_CHECKING:
    import plotly.graph_objects as go


def progress_chart(provenance: Provenance) -> "go.Figure | None":
    """Draw objective and bound over the seconds of the search; None where nothing was recorded."""
    import plotly.graph_objects as go

    if not provenance.progress:
        return None
    at = [point.at_s for point in provenance.progress]
    found = _line(at, [p.objective for p in provenance.progress], "best schedule found", {"width": 2, "shape": "hv"})
    bound = _line(at, [p.bound for p in provenance.progress], "proven bound", {"width": 2, "dash": "dot", "shape": "hv"})
    return go.Figure([go.Scatter(**found), go.Scatter(**bound)], _layout())


def progress_table(provenance: Provenance) -> Table:
    """Points of the search's history."""
    rows = tuple((f"{p.at_s:.1f} s", f"{p.objective:,.2f}", f"{p.bound:,.2f}") for p in provenance.progress)
    return Table("Progress of the search", ("after", "best schedule found", "proven bound"), rows)


def _line(at: list[float], values: list[float], name: str, line: dict[str, Any]) -> dict[str, Any]:
    plain = {"x": at, "y": values, "name": name, "meta": "progress", "hovertemplate": "%{y:.2f} after %{x:.1f} s"}
    marker = {"symbol": "circle" if "dash" not in line else "diamond-open", "size": 7, "color": INK}
    return plain | {"mode": "lines+markers", "line": line | {"color": INK}, "marker": marker}


def _layout() -> dict[str, Any]:
    axis = {"gridcolor": "#d5d9dc", "zerolinecolor": "#d5d9dc", "fixedrange": True, "automargin": True}
    return {
        "template": "none",
        "height": 260,
        "margin": {"l": 8, "r": 8, "t": 8, "b": 40},
        "font": {"family": FONT, "size": 12, "color": INK},
        "paper_bgcolor": "#ffffff",
        "plot_bgcolor": "#ffffff",
        "legend": {"orientation": "h", "x": 0, "y": 1.02, "yanchor": "bottom"},
        "xaxis": axis | {"title": {"text": "seconds of search"}, "rangemode": "tozero"},
        "yaxis": axis,
    }
