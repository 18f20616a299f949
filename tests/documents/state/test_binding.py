"""What binds, worked by hand on the sample."""

from documents.sample import sample_schedule, sample_shop
from scheduler.documents.state.binding import bindings
from scheduler.documents.state.slack_strip import WIDTH, slack_strips
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Span


def test_a_resource_that_is_always_taken_comes_first() -> None:
    """A canopy that holds a unit from the first to the last minute is taken whole all the time that it is open."""
    schedule = sample_schedule()
    stay = schedule.stays[0].model_copy(
        update={"bay_id": "B3", "place": 1, "start": schedule.plan_from, "end": schedule.plan_until}
    )
    first, *_ = bindings(WorkWords(sample_shop(), schedule.model_copy(update={"stays": (stay,)})))
    assert (first.name, first.mean, first.full) == ("Canopy", 1.0, 1.0)


def test_shares_are_of_the_working_hours_until_the_last_step() -> None:
    """One person at work from 07:00 to 08:00 of a day that ends for the plan at 08:00: a quarter of the people, all hour."""
    schedule = sample_schedule()
    work = schedule.work[0]
    hour = Span(start=work.start, end=work.start.replace(hour=8))
    one = schedule.model_copy(update={"work": (work.model_copy(update={"spans": (hour,)}),), "stays": ()})
    found = {binding.name: binding for binding in bindings(WorkWords(sample_shop(), one))}
    assert found["People who can: sprayer"].mean == 0.25
    assert found["People who can: sprayer"].full == 0.0


def test_nothing_binds_without_work() -> None:
    """An empty plan has no answer."""
    assert bindings(WorkWords(sample_shop(), sample_schedule().model_copy(update={"work": ()}))) == ()


def test_slack_is_drawn_from_hand_over_to_due_date() -> None:
    """An order that is late is handed over to the right of its due date; all places lie on the line."""
    schedule = sample_schedule()
    strips = slack_strips(schedule)
    for delivery in schedule.deliveries:
        strip = strips[delivery.order_id]
        assert strip.late == (delivery.days_late > 0) == (strip.delivered > strip.due)
        assert 0 <= min(strip.delivered, strip.due) <= max(strip.delivered, strip.due) <= WIDTH
