"""The page of a comparison: a chart that can be read at any width."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from documents.sample import sample_schedule
from scheduler.documents.changes.change_page import change_page
from scheduler.documents.changes.change_words import day_shift_text
from scheduler.documents.changes.changed_days import TALLEST, changed_days
from scheduler.documents.changes.choices_page import WayOn, choices_page, figures_table, orders_table, orders_that_move
from scheduler.documents.changes.hand_over_chart import MARGIN_PCT, MOST_ROWS, chart_of, hand_over_chart
from scheduler.documents.words.local_time import LocalTime
from scheduler.schedule.changes import changes
from scheduler.schedule.schedule import Schedule

TIME = LocalTime(ZoneInfo("Europe/Berlin"))
BEFORE = sample_schedule()


def _moved(customer: str = "Harbour works") -> Schedule:
    """The sample with its first order handed back ten days later, to a customer of that name."""
    first, *rest = BEFORE.deliveries
    later = {"delivered_at": first.delivered_at + timedelta(days=10), "days_late": 7, "customer": customer}
    return BEFORE.model_copy(update={"deliveries": (first.model_copy(update=later), *rest)})


def test_marks_and_days_lie_on_the_axis_in_per_cent() -> None:
    """Nothing is cut off left or right; the mark goes to the right as the hand-over gets later, and it is late."""
    chart = hand_over_chart(changes(BEFORE, _moved()), TIME)
    (row,), (line,) = chart.rows, chart.rows[0].lines
    assert line.was_x is not None
    assert line.now_x is not None
    assert MARGIN_PCT <= line.was_x < line.now_x <= 100 - MARGIN_PCT
    assert all(MARGIN_PCT <= x <= 100 - MARGIN_PCT for x in (row.due_x, *(tick.x for tick in chart.ticks)))
    assert line.late
    assert line.says.endswith(", 10 days later")
    assert line.standing == "7 days late"
    assert [tick.spare for tick in chart.ticks[:4]] == [False, True, True, False]


def test_the_drawing_is_not_scaled() -> None:
    """Without a view box letters keep their size on a phone."""
    assert "viewBox" not in change_page("Yard", changes(BEFORE, _moved()), TIME).partition("<figure")[2].partition("</figure")[0]


def test_where_many_move_those_that_move_most_are_drawn() -> None:
    """Fifty orders, each moved by an hour more than the one before: forty are drawn in the table's order, ten counted."""
    first = BEFORE.deliveries[0]
    was = [first.model_copy(update={"order_id": f"O{n}"}) for n in range(50)]
    now = [row.model_copy(update={"delivered_at": row.delivered_at + timedelta(hours=n + 1)}) for n, row in enumerate(was)]
    found = changes(BEFORE.model_copy(update={"deliveries": tuple(was)}), BEFORE.model_copy(update={"deliveries": tuple(now)}))
    chart = hand_over_chart(found, TIME)
    assert len(chart.rows) == MOST_ROWS
    assert chart.left_out == 10
    drawn = [int(row.name.split()[0][1:]) for row in chart.rows]
    assert min(drawn) == 10
    assert drawn == [int(move.either.order_id[1:]) for move in found.dates if int(move.either.order_id[1:]) >= 10]
    assert "10 more are in the table" in change_page("Yard", found, TIME)


def test_each_person_and_bay_has_its_changed_days() -> None:
    """A step that goes to another day changes both days of everybody on it and of its bay; every mark lies on the axis."""
    work = next(w for w in BEFORE.work if w.bay_id and w.people and not w.done)
    later = tuple(
        span.model_copy(update={"start": span.start + timedelta(days=3), "end": span.end + timedelta(days=3)})
        for span in work.spans
    )
    after = BEFORE.model_copy(
        update={"work": tuple(w.model_copy(update={"spans": later}) if w is work else w for w in BEFORE.work)}
    )
    found = changes(BEFORE, after)
    chart = changed_days(found, TIME)
    assert chart is not None
    days = {**found.people, **{f"bay {bay}": changed for bay, changed in found.bays.items()}}
    assert {row.label.partition(":")[0]: len(row.marks) for row in chart.rows} == {
        name: len(changed) for name, changed in days.items()
    }
    assert f"bay {work.bay_id}" in days
    assert chart.most == 1
    assert {mark.height for row in chart.rows for mark in row.marks} == {TALLEST}
    assert all(mark.x >= 0 and mark.x + mark.width <= 100 for row in chart.rows for mark in row.marks)
    assert changed_days(changes(BEFORE, BEFORE), TIME) is None


def _ways() -> list[WayOn]:
    return [
        WayOn(name, f"{name}: what it does", after, changes(BEFORE, after), 0.25)
        for name, after in (("repair", _moved()), ("few", BEFORE), ("best", BEFORE))
    ]


def test_choices_stand_side_by_side_and_those_alike_share_a_line() -> None:
    """One order moves in the repair alone: a column for each choice, a line for the repair and one for the two that keep it."""
    first = BEFORE.deliveries[0]
    (cells,) = orders_table(BEFORE, _ways(), TIME).rows
    assert cells[0] == first.order_id
    assert cells[4].endswith(", 7 days late")
    assert cells[5].startswith("as told")
    figures = {row[0]: row[1:] for row in figures_table(BEFORE, _ways(), TIME).rows}
    assert figures["orders handed back later"] == ("", "1", "0", "0")
    (row,) = chart_of(orders_that_move(BEFORE, _ways()), TIME).rows
    assert [line.label for line in row.lines] == ["repair", "few, best"]
    assert [line.late for line in row.lines] == [True, first.days_late > 0]


def test_the_page_of_choices_names_each_and_where_none_moves_an_order_says_so() -> None:
    """Every choice has its part; without a hand-over that moves there is a sentence in place of the chart."""
    shown = choices_page("Yard", "Mon 1 Sep 07:00", BEFORE, _ways(), TIME)
    assert all(f"{way.name}: what moves" in shown for way in _ways())
    assert "Every order is handed back as told" not in shown
    same = [WayOn("best", "best", BEFORE, changes(BEFORE, BEFORE), 0.1)]
    assert "Every order is handed back as told" in choices_page("Yard", "Mon 1 Sep 07:00", BEFORE, same, TIME)


def test_a_shift_is_counted_in_days_of_the_calendar() -> None:
    """From the evening to the next morning is a day later; on one day it is hours; the same moment is as told."""
    evening = BEFORE.deliveries[0].delivered_at.replace(hour=20)
    assert day_shift_text(evening, evening + timedelta(hours=12), TIME) == "1 day later"
    assert day_shift_text(evening, evening - timedelta(hours=2), TIME) == "2 h earlier"
    assert day_shift_text(evening, evening, TIME) == "as told"
