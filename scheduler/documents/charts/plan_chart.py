"""The chart of a plan: bays, crew and loads on one time axis."""

from typing import TYPE_CHECKING, Any, Final

from scheduler.documents.charts.bar_traces import bar_traces
from scheduler.documents.charts.bars import stay_bars, work_bars
from scheduler.documents.charts.closed_weather import closed_weather
from scheduler.documents.charts.load_traces import load_traces
from scheduler.documents.charts.loads import air_load, crew_load, warmer_load
from scheduler.documents.charts.panels import CREW_ROW_PX, LOAD_PX, ROW_PX, Stack, stack
from scheduler.documents.charts.plan_layout import plan_layout
from scheduler.documents.charts.rows import Rows, rows_of
from scheduler.documents.charts.shut import nobody_there, people_away, shut_bays
from scheduler.documents.charts.views import whole_span
from scheduler.documents.work_words import WorkWords

if TYPE_CHECKING:
    import plotly.graph_objects as go

MOST_BARS: Final = 2000
"""Bars that a browser draws at once without a wait; a chart with more is shown a week at a time."""
_STEP_IN_BAY: Final = (-0.06, 0.5)
_STEP_OF_PERSON: Final = (-0.38, 0.76)


def plan_chart(words: WorkWords) -> "go.Figure":
    """Draw a schedule.

    Parameters
    ----------
    words : WorkWords
        The schedule with its shop.

    Returns
    -------
    plotly.graph_objects.Figure
        Every bar of the plan; ``layout.meta`` holds weeks and days on the axis and the limits, from which the page
        shows a stretch at a time.
    """
    import plotly.graph_objects as go

    rows = rows_of(words)
    panels = _stack(words, rows)
    traces = [*_bar_panels(words, rows, panels), *_load_panels(words, panels)]
    return go.Figure(traces, plan_layout(words, rows, panels, nobody_there(words, *whole_span(words))), skip_invalid=False)


def _stack(words: WorkWords, rows: Rows) -> Stack:
    loads = ("People", f"Air, {words.units.air.symbol}", "Warmer slots")
    means = ("at work (hatched), on shift (line)", "mean use (hatched), supply (line)", "used (hatched), there (line)")
    titles = ("Bays", "Crew", *(f"{load}: {meaning}" for load, meaning in zip(loads, means, strict=True)))
    heights = (ROW_PX * len(rows.bay_labels), CREW_ROW_PX * len(rows.crew_labels), LOAD_PX, LOAD_PX, LOAD_PX)
    return stack(titles, heights)


def _bar_panels(words: WorkWords, rows: Rows, panels: Stack) -> list[Any]:
    bays, crew = panels.panels[:2]
    in_bays, by_person = work_bars(words, rows)
    strips = (*closed_weather(words, rows), *shut_bays(words, rows), *stay_bars(words, rows))
    return [
        *bar_traces((*strips, *in_bays), bays, _STEP_IN_BAY),
        *bar_traces((*people_away(words, rows), *by_person), crew, _STEP_OF_PERSON),
    ]


def _load_panels(words: WorkWords, panels: Stack) -> list[Any]:
    shop, schedule, time = words.shop, words.schedule, words.time
    crew, air, warmers = panels.panels[2:]
    return [
        *load_traces(crew_load(shop, schedule), crew, time, ("People at work", "People on shift")),
        *load_traces(air_load(shop, schedule), air, time, ("Mean demand", "Supply"), words.units.air),
        *load_traces(warmer_load(shop, schedule), warmers, time, ("Slots used", "Slots there")),
    ]
