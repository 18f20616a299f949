"""What a person has fixed and what has already happened."""

from pydantic import Field

from scheduler.shop.fields import Id, Row, Words
from scheduler.shop.time_fields import Moment


class Pinned(Row):
    """A step that must start at a given time, in a given bay if one is named."""

    unit_id: Id
    step: Id = Field(description="step of the unit as in the schedule: abrade, coat-2, dispatch")
    start_at: Moment
    bay_id: Id | None = None


class Done(Row):
    """A step that has been done."""

    unit_id: Id
    step: Id
    started_at: Moment
    ended_at: Moment
    bay_id: Id | None = None
    people: Words = ()
