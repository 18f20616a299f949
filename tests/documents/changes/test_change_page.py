"""The page of a comparison: a chart that can be read at any width."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from documents.sample import sample_schedule
from scheduler.documents.changes.change_page import LONGEST_LABEL, MARGIN_PCT, change_page, hand_over_chart
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
