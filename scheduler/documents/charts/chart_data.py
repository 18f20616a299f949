"""A chart as data for the page: the figure, and the weeks and days of it that a person can ask for."""

import json
from typing import TYPE_CHECKING, Any, Final

from scheduler.documents.charts.bar_traces import MARKS, MOST_TEXTS
from scheduler.documents.charts.plan_chart import MOST_BARS
from scheduler.documents.charts.rows import short_labels
from scheduler.documents.charts.views import day_views, week_views
from scheduler.documents.step_marks import INK
from scheduler.documents.work_words import WorkWords

if TYPE_CHECKING:
    import plotly.graph_objects as go

_HATCHES: Final = {
    "/": "M0 6 L6 0",
    "\\": "M0 0 L6 6",
    "x": "M0 6 L6 0 M0 0 L6 6",
    "|": "M3 0 L3 6",
    "-": "M0 3 L6 3",
    "+": "M3 0 L3 6 M0 3 L6 3",
    ".": "M2.4 3 L3.6 3",
    "": "",
}


def chart_data(figure: "go.Figure") -> dict[str, Any]:
    """Return the figure as plain lists and dicts, as plotly.js takes it."""
    plain: dict[str, Any] = json.loads(figure.to_json())
    return plain


def pooled(plain: dict[str, Any]) -> dict[str, Any]:
    """Put each hover text once under ``texts`` and its index in the traces: work shows in its bay and with each person."""
    places: dict[str, int] = {}
    for trace in plain["data"]:
        trace["hovertext"] = [places.setdefault(text, len(places)) for text in trace["hovertext"]]
    return plain | {"texts": list(places)}


def views_of(words: WorkWords) -> dict[str, Any]:
    """Stretches of the axis that the page offers, and how much it may draw at once.

    Returns
    -------
    dict
        ``weeks`` and ``days`` with label, from and to on the axis in milliseconds; ``whole``; ``most_bars``, ``most_texts``;
        ``short_bays`` and ``short_crew``, labels of the rows for a narrow screen.
    """
    short_bays, short_crew = short_labels(words)
    weeks, days = week_views(words), day_views(words)
    return {
        "weeks": weeks,
        "days": days,
        "whole": {"label": "Whole plan", "from": weeks[0]["from"], "to": weeks[-1]["to"]} if len(weeks) > 1 else None,
        "most_bars": MOST_BARS,
        "most_texts": MOST_TEXTS,
        "short_bays": short_bays,
        "short_crew": short_crew,
    }


def legend_of(figure: "go.Figure") -> list[dict[str, str]]:
    """Marks that the figure uses, in drawing order, with the path of their hatching for a small picture."""
    used = {trace.meta for trace in figure.data}
    return [
        {"letter": mark.letter, "label": mark.label, "fill": mark.fill, "path": _HATCHES[mark.hatch], "ink": INK}
        for kind, mark in MARKS.items()
        if kind in used
    ]
