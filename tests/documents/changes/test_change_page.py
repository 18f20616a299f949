"""The page of a comparison: a chart that can be read at any width."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from documents.sample import sample_schedule
from scheduler.documents.changes.change_page import LONGEST_LABEL, MARGIN_PCT, MOST_ROWS, change_page, hand_over_chart
from scheduler.documents.changes.changed_days import changed_days
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
    (row,) = chart.rows
    assert row.was_x is not None
    assert row.now_x is not None
    assert MARGIN_PCT <= row.was_x < row.now_x <= 100 - MARGIN_PCT
    assert all(MARGIN_PCT <= x <= 100 - MARGIN_PCT for x in (row.due_x, *(tick.x for tick in chart.ticks)))
    assert row.late
    assert [tick.spare for tick in chart.ticks[:4]] == [False, True, True, False]


def test_labels_are_whole_or_say_that_they_are_not() -> None:
    """A name that fits is not cut; a longer one ends in an ellipsis."""
    assert hand_over_chart(changes(BEFORE, _moved()), TIME).rows[0].label.endswith(" Harbour works")
    long = hand_over_chart(changes(BEFORE, _moved("Quay and lock office " * 9)), TIME).rows[0].label
    assert long.endswith("…")
    assert len(long) <= LONGEST_LABEL


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
    drawn = [int(row.label.split()[0][1:]) for row in chart.rows]
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
    chart = changed_days(found)
    assert chart is not None
    days = {**found.people, **{f"bay {bay}": changed for bay, changed in found.bays.items()}}
    assert {row.label.partition(":")[0]: len(row.marks) for row in chart.rows} == {
        name: len(changed) for name, changed in days.items()
    }
    assert f"bay {work.bay_id}" in days
    assert all(mark.x >= 0 and mark.x + mark.width <= 100 for row in chart.rows for mark in row.marks)
    assert changed_days(changes(BEFORE, BEFORE)) is None
