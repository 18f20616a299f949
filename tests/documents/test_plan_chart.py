"""The chart as plotly gets it: every stretch of work is a bar, marked by hatching and letter, with inert texts."""

from datetime import date, timedelta

import pytest

from documents.sample import MONDAY, local, sample_schedule, sample_shop
from scheduler.documents.charts.bar_traces import MARKS
from scheduler.documents.charts.chart_data import chart_data, legend_of, pooled, views_of
from scheduler.documents.charts.chart_text import chart_text, hover_lines
from scheduler.documents.charts.plan_chart import plan_chart
from scheduler.documents.charts.plan_tables import bay_table, crew_table
from scheduler.documents.charts.progress_chart import progress_chart, progress_table
from scheduler.documents.charts.rows import rows_of
from scheduler.documents.charts.shut import nobody_there
from scheduler.documents.charts.views import day_views, week_views
from scheduler.documents.direction import set_apart
from scheduler.documents.step_marks import INK, STEP_MARKS
from scheduler.documents.work_words import WorkWords
from scheduler.shop.methods import Step

WORDS = WorkWords(sample_shop(), sample_schedule())
FIGURE = plan_chart(WORDS)
BARS = [trace for trace in FIGURE.data if trace.type == "bar"]


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_every_step_has_a_mark_that_does_not_rest_on_colour() -> None:
    """Letters are unique; inside a fill the hatchings are unique too, so that colour is never needed to tell steps apart."""
    assert set(STEP_MARKS) == set(Step)
    assert len({mark.letter for mark in STEP_MARKS.values()}) == len(STEP_MARKS)
    assert len({(mark.fill, mark.hatch) for mark in MARKS.values()}) == len(MARKS)


@pytest.mark.parametrize("mark", MARKS.values(), ids=lambda mark: mark.label)
def test_letters_stand_out_from_their_fill(mark: object) -> None:
    """Contrast of ink on every fill is at least 7 to 1 (WCAG 2.2, 1.4.6)."""
    fill = luminance(getattr(mark, "fill"))  # noqa: B009
    assert (fill + 0.05) / (luminance(INK) + 0.05) >= 7


def test_every_stretch_of_work_is_one_bar_in_its_bay_and_one_for_each_person() -> None:
    """No work is missing from either panel, and none is drawn twice."""
    spans = [(work, span) for work in WORDS.schedule.work for span in work.spans]
    in_bays = sum(len(t.y) for t in BARS if t.meta in set(Step) and t.xaxis in (None, "x"))
    by_person = sum(len(t.y) for t in BARS if t.meta in set(Step) and t.xaxis == "x2")
    assert (in_bays, by_person) == (len(spans), sum(len(work.people) for work, _ in spans))


def test_bars_stand_on_wall_time_without_breaks_in_the_axis() -> None:
    """The first receive starts at 07:00 of the axis for half an hour; range breaks, with which no bar shows, are not used."""
    receive = next(t for t in BARS if t.meta == "receive")
    assert (receive.base[0], receive.x[0]) == (WORDS.time.axis_ms(local(MONDAY, "07:00")), 30 * 60_000)
    assert receive.base[0] % 86_400_000 == 7 * 3_600_000
    assert "rangebreaks" not in FIGURE.to_json()


def test_one_trace_a_kind_and_panel() -> None:
    """Bars of a kind share one trace in a panel, which keeps the chart quick."""
    keys = [(t.meta, t.xaxis) for t in BARS]
    assert len(keys) == len(set(keys))


def test_work_in_the_yard_gets_lanes_so_that_no_bar_covers_another() -> None:
    """Two units are received at once: two lanes."""
    assert rows_of(WORDS).bay_labels[-2:] == ("Yard 1", "Yard 2")
    rows = rows_of(WORDS).row_of_work
    assert rows["U1/receive"] != rows["U2/receive"]


def test_nights_breaks_and_time_outside_the_horizon_are_shaded() -> None:
    """From Monday's midnight until the shift, over the break, and after it."""
    start = WORDS.time.midnight(MONDAY)
    spans = nobody_there(WORDS, start, start + timedelta(days=1))
    clocks = [(WORDS.time.clock(a), WORDS.time.clock(b)) for a, b in spans]
    assert clocks == [("00:00", "07:00"), ("12:00", "12:30"), ("16:00", "00:00")]


def test_closed_weather_lies_where_the_sheet_forbids_spraying() -> None:
    """Under the canopy the rainy Wednesday is closed from its first hour; the heated hall stays open on Tuesday noon."""
    weather = next(t for t in BARS if t.meta == "weather")
    rows = rows_of(WORDS).row_of_place
    wet, noon = (WORDS.time.axis_ms(local(MONDAY + timedelta(days=d), c)) for d, c in ((2, "08:00"), (1, "12:00")))
    closed = {
        (row, ms) for row, a, n in zip(weather.y, weather.base, weather.x, strict=True) for ms in (wet, noon) if a <= ms < a + n
    }
    assert (rows["B3", 1], wet) in closed
    assert (rows["B2", 1], noon) not in closed


def test_closures_of_a_bay_and_of_a_person_are_drawn() -> None:
    """The canopy is shut on Friday and Dan is away on Wednesday."""
    shut = {trace.xaxis or "x": trace for trace in BARS if trace.meta == "shut"}
    assert (list(shut["x"].text), list(shut["x2"].text)) == (["Shut"], ["Away"])


def test_names_are_inert_in_a_chart() -> None:
    """Tags are escaped, long names cut, and a name that runs right to left is closed off even when it is cut."""
    assert chart_text("<b>&\"'</b>") == "&lt;b&gt;&amp;\"'&lt;/b&gt;"
    assert len(chart_text("W" * 200, 20)) == 20
    assert (
        chart_text(set_apart("\u05d0" * 50), 10).count("\u2068") == chart_text(set_apart("\u05d0" * 50), 10).count("\u2069") == 1
    )
    assert hover_lines(["a<br>b", "", "c"]) == "a&lt;br&gt;b<br>c"


def test_hover_texts_of_the_figure_hold_no_tag_but_line_breaks() -> None:
    """Whatever a unit, a customer or a person is called."""
    words = WorkWords(sample_shop(["<script>alert(1)</script>", "<a href='x'>y</a>"]), sample_schedule())
    texts = [text for trace in plan_chart(words).data for text in (*(trace.hovertext or ()), *(trace.text or ()))]
    assert any("&lt;script&gt;" in text for text in texts)
    assert not [text for text in texts if "<" in text.replace("<br>", "")]


def test_hover_texts_are_kept_once() -> None:
    """Bay and person show the same words: the pool holds each once and the indices lead back to it."""
    plain = chart_data(FIGURE)
    whole = [list(trace["hovertext"]) for trace in plain["data"]]
    pool = pooled(plain)
    assert [[pool["texts"][i] for i in trace["hovertext"]] for trace in pool["data"]] == whole
    assert len(pool["texts"]) == len(set(pool["texts"])) < sum(map(len, whole))


def test_weeks_and_days_hold_all_work() -> None:
    """Fourteen units take two weeks; the first view starts on Monday's midnight, a day an hour before its work."""
    words = WorkWords(sample_shop(units=14), sample_schedule(14))
    weeks, days = week_views(words), day_views(words)
    assert [week["label"] for week in weeks] == ["Week of Mon 20 Oct", "Week of Mon 27 Oct"]
    assert weeks[0]["to"] == weeks[1]["from"]
    assert days[0]["from"] == words.time.axis_ms(local(MONDAY, "06:00"))
    assert {day["label"] for day in days} >= {"Mon 20 Oct", "Thu 30 Oct"}


def test_a_plan_without_work_has_a_chart() -> None:
    """An infeasible shop still gets a page: empty rows, no views."""
    words = WorkWords(sample_shop(), sample_schedule().model_copy(update={"work": (), "stays": (), "deliveries": ()}))
    assert views_of(words)["weeks"] == []
    assert not [trace for trace in plan_chart(words).data if trace.meta in set(Step)]


def test_the_legend_names_what_is_drawn() -> None:
    """Every kind in the chart has its mark, in words."""
    assert {mark["label"] for mark in legend_of(FIGURE)} == {MARKS[t.meta].label for t in BARS}


def test_tables_hold_what_the_chart_shows() -> None:
    """As many rows as bars, in the words of the chart."""
    spans = sum(len(work.spans) for work in WORDS.schedule.work)
    assert len(bay_table(WORDS).rows) == spans
    assert len(crew_table(WORDS).rows) == sum(len(w.spans) * len(w.people) for w in WORDS.schedule.work)
    assert bay_table(WORDS).rows[0] == (
        "Wash and abrade hall, place 1",
        "Mon 20 Oct 07:30",
        "08:00",
        "Move in",
        "U1 Hopper body 1",
    )


def test_progress_shows_objective_and_bound() -> None:
    """Two lines, unlike in dash and marker; without a history there is no chart."""
    provenance = WORDS.schedule.provenance
    figure = progress_chart(provenance)
    assert figure is not None
    assert [list(t.y) for t in figure.data] == [[9, 5, 2, 2], [0, 0, 0, 0]]
    assert figure.data[0].line.dash != figure.data[1].line.dash
    assert len(progress_table(provenance).rows) == 4
    assert progress_chart(provenance.model_copy(update={"progress": ()})) is None


def test_the_end_of_the_forecast_is_marked_where_it_falls_into_the_plan() -> None:
    """A line with a note in words."""
    assert "forecast ends" in FIGURE.layout.annotations[-1].text
    assert WORDS.time.day(local(date(2025, 11, 1), "01:00")) == date(2025, 11, 1)
