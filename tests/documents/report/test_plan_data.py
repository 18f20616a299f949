"""The plan as the page gets it: every stretch of work with all its words, each text once, times on the wall clock."""

import json
from datetime import date, datetime, timedelta

import pytest

from documents.sample import MONDAY, local, sample_schedule, sample_shop
from scheduler.documents.charts.bars import step_bars
from scheduler.documents.charts.chart_text import chart_text
from scheduler.documents.charts.closed_weather import closed_weather
from scheduler.documents.charts.progress_chart import progress_chart, progress_table
from scheduler.documents.charts.rows import LONGEST_LABEL, rows_of
from scheduler.documents.charts.shut import nobody_there, people_away, shut_bays
from scheduler.documents.charts.views import day_views, week_views
from scheduler.documents.pages.pages import compact_json
from scheduler.documents.report.plan_data.axis import Axis
from scheduler.documents.report.plan_data.plan_data import kinds_drawn, plan_data
from scheduler.documents.report.plan_data.text_pool import TextPool
from scheduler.documents.report.plan_data.work_rows import FIELDS
from scheduler.documents.report.report_days import report_days
from scheduler.documents.words.direction import set_apart
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Progress, Span

WORDS = WorkWords(sample_shop(), sample_schedule())
DATA = plan_data(WORDS, report_days(WORDS))
HOUR = 60
DAY = 24 * HOUR


def text(place: int) -> str:
    """Text of the page, with plain spaces."""
    return str(DATA["text"][place]).replace("\u202f", " ")


def rows() -> list[dict[str, object]]:
    """Work with named cells."""
    return [dict(zip(FIELDS, row, strict=True)) for row in DATA["work"]]


def test_every_stretch_of_work_is_there_once() -> None:
    """As many rows as work, as many spans and people in each."""
    spans = sum(len(row["spans"]) for row in rows())  # type: ignore[arg-type]
    people = sum(len(row["people"]) for row in rows())  # type: ignore[arg-type]
    assert len(rows()) == len(WORDS.schedule.work)
    assert spans == sum(len(work.spans) for work in WORDS.schedule.work)
    assert people == sum(len(work.people) for work in WORDS.schedule.work)


def test_a_row_says_all_that_is_known_of_the_work() -> None:
    """First coat of the first unit, worked out by hand: Tuesday from 09:00 for 75 minutes, in the second hall."""
    row = next(row for row in rows() if row["kind"] == "coat" and row["unit"] == 0)
    names = [text(int(row[name])) for name in ("letter", "step", "place", "amounts", "product", "tools")]  # type: ignore[call-overload]
    assert row["spans"] == [[DAY + 9 * HOUR, 75]]
    tools = "G1#1 Cartridge gun"
    assert names == ["C1", "Coat 1", "Coating hall, place 1", "14.2 m², 2 100 mL, 3 cartridges", "Elastomer coat", tools]
    assert [[text(DATA["people"][person]), text(skill)] for person, skill in row["people"]] == [  # type: ignore[attr-defined]
        ["Ana", "sprayer"],
        ["Ben", "attendant"],
    ]
    assert text(int(row["measure"])).startswith("steel temperature 5 °C to 40 °C; air temperature at least 5 °C")  # type: ignore[call-overload]


def test_texts_are_kept_once() -> None:
    """The pool gives one place to one text, the empty text the first."""
    pool = TextPool()
    assert [pool(words) for words in ("", "a", "b", "a")] == [0, 1, 2, 1]
    assert pool.texts == ["", "a", "b"]
    assert len(DATA["text"]) == len(set(DATA["text"]))


def test_times_are_minutes_on_the_wall_clock_since_the_first_midnight() -> None:
    """The first receive is at 07:00 of the first day."""
    assert min(row["spans"][0][0] for row in rows()) == 7 * HOUR  # type: ignore[index]
    assert DATA["origin_ms"] == WORDS.time.axis_ms(WORDS.time.midnight(MONDAY))


@pytest.mark.parametrize(
    ("start", "end", "span"),
    [
        ("2025-10-26T01:00+02:00", "2025-10-26T04:00+01:00", [6 * DAY + HOUR, 180, 0, 240]),
        ("2025-10-26T02:15+01:00", "2025-10-26T03:15+01:00", [6 * DAY + 135, 60, 1, 60]),
        ("2025-10-26T02:15+02:00", "2025-10-26T02:15+01:00", [6 * DAY + 135, 60, 2, 60]),
        ("2025-10-27T07:00+01:00", "2025-10-27T08:00+01:00", [7 * DAY + 7 * HOUR, 60]),
    ],
    ids=["over the change", "second round", "round the change", "plain"],
)
def test_a_clock_that_goes_back_is_told(start: str, end: str, span: list[int]) -> None:
    """Where wall time and time that passes differ, both are there, with the ends that lie in the second round."""
    assert Axis(WORDS).span(datetime.fromisoformat(start), datetime.fromisoformat(end)) == span


def test_loads_are_steps_with_their_limits() -> None:
    """Three of four people are there on Wednesday; twelve slots are taken on Monday night of twenty-four."""
    loads = {load["name"]: load for load in DATA["loads"]}

    def at(level: list[list[float]], minute: int) -> float:
        return [value for moment, value in zip(*level, strict=True) if moment <= minute][-1]

    assert at(loads["People"]["there"], 2 * DAY + 10 * HOUR) == 3
    assert (at(loads["Warmer slots"]["used"], 16 * HOUR), at(loads["Warmer slots"]["there"], 16 * HOUR)) == (12, 24)
    assert loads["Compressed air"]["unit"] == "L/s"
    assert at(loads["Places in the bays"]["used"], 10 * HOUR) == 2


def test_strips_name_their_unit_and_say_their_times_last() -> None:
    """A stay leads to its unit; closed weather says why and when."""
    stay = next(strip for strip in DATA["strips"] if strip[0] == "stay")
    weather = next(strip for strip in DATA["strips"] if strip[0] == "weather")
    assert DATA["units"][stay[6]][0] == text(stay[4]) == "U1"
    assert weather[6] is None
    assert [text(weather[5][0]), " to " in text(weather[5][-1])] == ["Closed for spraying", True]


def test_work_in_the_yard_gets_lanes_so_that_no_bar_covers_another() -> None:
    """Two units are received at once: two lanes."""
    assert rows_of(WORDS).bay_labels[-2:] == ("Yard 1", "Yard 2")
    lanes = rows_of(WORDS).row_of_work
    assert lanes["U1/receive"] != lanes["U2/receive"]


def test_bars_for_pictures_stand_where_the_work_is() -> None:
    """One bar a span, on the row of its work."""
    bars = step_bars(WORDS, rows_of(WORDS))
    assert len(bars) == sum(len(work.spans) for work in WORDS.schedule.work)
    first = next(bar for bar in bars if bar.unit_id == "U1" and bar.kind == "receive")
    assert (first.start_ms, first.span_ms) == (WORDS.time.axis_ms(local(MONDAY, "07:00")), 30 * 60_000)


def test_nights_breaks_and_time_outside_the_horizon_are_shaded() -> None:
    """From Monday's midnight until the shift, over the break, and after it."""
    start = WORDS.time.midnight(MONDAY)
    spans = nobody_there(WORDS, start, start + timedelta(days=1))
    clocks = [(WORDS.time.clock(a), WORDS.time.clock(b)) for a, b in spans]
    assert clocks == [("00:00", "07:00"), ("12:00", "12:30"), ("16:00", "00:00")]


def test_days_that_are_history_keep_their_hours() -> None:
    """In a plan from Wednesday on, Monday opens and closes as it did; work done late in the evening is not in a closed time."""
    site = WORDS.shop.site.model_copy(update={"plan_from": local(MONDAY + timedelta(days=2), "07:00")})
    late = Span(start=local(MONDAY, "20:00"), end=local(MONDAY, "21:00"))
    first, *rest = WORDS.schedule.work
    history = WORDS.schedule.model_copy(update={"work": (first.model_copy(update={"spans": (late,), "done": True}), *rest)})
    words = WorkWords(WORDS.shop.model_copy(update={"site": site}), history)
    start = local(MONDAY, "00:00")
    clocks = [(words.time.clock(a), words.time.clock(b)) for a, b in nobody_there(words, start, start + timedelta(days=1))]
    assert clocks == [("00:00", "07:00"), ("12:00", "12:30"), ("16:00", "20:00"), ("21:00", "00:00")]


def test_closed_weather_lies_where_the_sheet_forbids_spraying() -> None:
    """Under the canopy the rainy Wednesday is closed from its first hour; the heated hall stays open on Tuesday noon."""
    bars, places = closed_weather(WORDS, rows_of(WORDS)), rows_of(WORDS).row_of_place
    wet, noon = (WORDS.time.axis_ms(local(MONDAY + timedelta(days=d), c)) for d, c in ((2, "08:00"), (1, "12:00")))
    closed = {(bar.row, ms) for bar in bars for ms in (wet, noon) if bar.start_ms <= ms < bar.start_ms + bar.span_ms}
    assert (places["B3", 1], wet) in closed
    assert (places["B2", 1], noon) not in closed


def test_closures_of_a_bay_and_of_a_person_are_drawn() -> None:
    """The canopy is shut on Friday and Dan is away on Wednesday."""
    chart_rows = rows_of(WORDS)
    bars = (*shut_bays(WORDS, chart_rows), *people_away(WORDS, chart_rows))
    assert [(bar.text, bar.says[1]) for bar in bars] == [("Shut", "leave"), ("Away", "leave")]


def test_names_are_cut_in_a_chart() -> None:
    """Long names are cut, and a name that runs right to left is closed off even when it is cut."""
    assert len(chart_text("W" * 200, 20)) == 20
    cut = chart_text(set_apart("\u05d0" * 50), 10)
    assert cut.count("\u2068") == cut.count("\u2069") == 1


def test_data_cannot_end_the_element_that_it_stands_in() -> None:
    """Tags and entities become escapes, and the data reads back as it was."""
    nasty = {"name": "</script><!-- & \u2028 'x'"}
    written = compact_json(nasty)
    assert not set("<>&") & set(written)
    assert json.loads(written) == nasty


def test_weeks_and_days_hold_all_work() -> None:
    """Fourteen units take two weeks; the first view starts on Monday's midnight, a day an hour before its work."""
    words = WorkWords(sample_shop(units=14), sample_schedule(14))
    weeks, days = week_views(words), day_views(words)
    assert [week["label"] for week in weeks] == ["Week of Mon 20 Oct", "Week of Mon 27 Oct"]
    assert weeks[0]["to"] == weeks[1]["from"]
    assert days[0]["from"] == words.time.axis_ms(local(MONDAY, "06:00"))
    assert {day["label"] for day in days} >= {"Mon 20 Oct", "Thu 30 Oct"}


def test_a_plan_without_work_has_data() -> None:
    """An infeasible shop still gets a page: no views, no work."""
    words = WorkWords(sample_shop(), sample_schedule().model_copy(update={"work": (), "stays": (), "deliveries": ()}))
    data = plan_data(words, report_days(words))
    assert (data["views"], data["work"], data["days"]) == ({"weeks": [], "days": []}, [], [])


def test_a_long_name_of_a_bay_stands_on_two_lines() -> None:
    """Broken near its middle, each line short enough and the place at the end; what has no space is cut, as before."""
    shop = sample_shop()

    def label(name: str) -> str:
        bay = shop.bays[0].model_copy(update={"name": name})
        named = shop.model_copy(update={"bays": (bay, *shop.bays[1:])})
        return rows_of(WorkWords(named, WORDS.schedule)).bay_labels[0]

    assert label("Hall") == "Hall · 1"
    assert label("Outdoor wash and abrade pad") == "Outdoor wash\nand abrade pad · 1"
    for name in ("W" * 90, f"{'W' * 60} {'V' * 60}"):
        assert all(len(line) <= LONGEST_LABEL for line in label(name).split("\n"))
        assert label(name).endswith("… · 1")


def test_kinds_that_are_drawn() -> None:
    """Steps and strips of the sample; nothing that it lacks."""
    assert kinds_drawn(DATA) >= {"coat", "stay", "weather", "shut"}
    assert "strip" not in kinds_drawn(DATA)


def test_progress_shows_objective_bound_and_gap() -> None:
    """Two lines, unlike in dash and marker, with the gap below; the last point is the goal as it was measured at the end."""
    schedule = WORDS.schedule
    chart = progress_chart(schedule)
    assert chart is not None
    bound, found, gap = chart["data"]
    assert (found["y"], bound["y"]) == ([9, 5, 2, 2, schedule.goals[0].value], [0, 0, 0, 0, schedule.goals[0].bound])
    assert gap["y"][:4] == [100.0] * 4
    assert found["x"][-1] == schedule.provenance.search_s
    assert (bound["line"]["dash"], found["line"]["dash"]) == ("dot", "solid")
    assert len(progress_table(schedule).rows) == 5


def test_without_a_history_there_is_no_chart_of_progress() -> None:
    """A schedule that was edited by hand has none."""
    silent = WORDS.schedule.provenance.model_copy(update={"progress": ()})
    assert progress_chart(WORDS.schedule.model_copy(update={"provenance": silent})) is None


def test_a_goal_at_its_bound_of_nothing_has_no_gap() -> None:
    """Nothing late and nothing proven to be: the gap is 0 %, not undefined."""
    found = (Progress(at_s=0.5, objective=0.25, bound=0.0), Progress(at_s=1.0, objective=0.0, bound=0.0))
    proof = WORDS.schedule.provenance.model_copy(update={"progress": found, "search_s": 1.0})
    chart = progress_chart(WORDS.schedule.model_copy(update={"provenance": proof, "goals": ()}))
    assert chart is not None
    assert chart["data"][2]["y"] == [25.0, 0.0]


def test_the_end_of_the_forecast_is_marked_where_it_falls_into_the_plan() -> None:
    """First of November, 01:00 on the clock of the site."""
    assert DATA["forecast_until"] == 12 * DAY + HOUR
    assert WORDS.time.day(local(date(2025, 11, 1), "01:00")) == date(2025, 11, 1)
