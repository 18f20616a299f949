"""The course of every method as a chart: how far above the bound, over time, on the mean of a size."""

from collections.abc import Sequence
from pathlib import Path

import plotly.graph_objects as go
from plotly.subplots import make_subplots

from tests.benchmarks.compare import by_shop, size_of
from tests.benchmarks.methods import METHODS
from tests.benchmarks.one import Measured

DASHES = ("solid", "dot", "dash", "longdash", "dashdot", "longdashdot")
COLOURS = ("#0072B2", "#E69F00", "#009E73", "#CC79A7", "#D55E00", "#56B4E9")
"""Told apart with any kind of colour vision (Okabe and Ito 2008, from memory), and by their dashes."""
POINTS = 60


def write_chart(rows: Sequence[Measured], path: Path) -> None:
    """Write the chart as a page that needs no network."""
    path.write_text(figure(rows).to_html(include_plotlyjs=True, config={"displayModeBar": False}), encoding="utf-8")


def figure(rows: Sequence[Measured]) -> go.Figure:
    """One panel a size, one line a method: (weighted days late - bound) / total weight, mean over shops with a schedule."""
    sizes = list(dict.fromkeys(size_of(row.family) for row in rows))
    chart = make_subplots(rows=1, cols=len(sizes), subplot_titles=sizes)
    for column, size in enumerate(sizes, start=1):
        mine = [row for row in rows if size_of(row.family) == size]
        for number, method in enumerate(METHODS):
            line = _line([row for row in mine if row.method == method], mine)
            if line:
                chart.add_trace(_trace(method, number, line, first=column == 1), row=1, col=column)
    chart.update_xaxes(type="log", title_text="seconds of search")
    chart.update_yaxes(rangemode="tozero")
    chart.update_yaxes(title_text="days late above the bound per unit of weight", row=1, col=1)
    return chart.update_layout(template="plotly_white", height=460, width=max(700, 380 * len(sizes)))


def _trace(method: str, number: int, line: list[tuple[float, float]], *, first: bool) -> go.Scatter:
    style = {"dash": DASHES[number % len(DASHES)], "color": COLOURS[number % len(COLOURS)], "shape": "hv"}
    x, y = zip(*line, strict=True)
    return go.Scatter(x=x, y=y, name=method, legendgroup=method, showlegend=first, line=style, mode="lines")


def _line(rows: list[Measured], everyone: list[Measured]) -> list[tuple[float, float]]:
    """Mean over the shops from the moment at which the method has a schedule of each that it solves."""
    done = [row for row in rows if row.progress and row.lateness is not None]
    if not done:
        return []
    bounds = {shop: max(row.bound for row in runs.values()) for shop, runs in by_shop(everyone).items()}
    begin, end = max(1e-3, *(row.progress[0][0] for row in done)), max(row.limit_s for row in done)
    moments = [begin * (max(end, begin) / begin) ** (k / POINTS) for k in range(POINTS + 1)]
    return [(at, sum(_above(row, at, bounds) for row in done) / len(done)) for at in moments]


def _above(row: Measured, at: float, bounds: dict[tuple[str, int, float], int]) -> float:
    reached = [lateness for when, lateness in row.progress if when <= at]
    value = reached[-1] if reached else row.progress[0][1]
    return (value - bounds[row.family, row.seed, row.limit_s]) / row.total_weight
