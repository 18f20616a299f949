"""What a person has fixed and what has already happened."""

from datetime import datetime

from pydantic import Field

from scheduler.shop.fields import Id, Row, Words


class Pinned(Row):
    """A step that must start at a given time, in a given bay if one is named."""

    unit_id: Id
    step: str = Field(description="step of the unit as in the schedule: abrade, coat-2, dispatch")
    start_at: datetime
    bay_id: Id | None = None


class Done(Row):
    """A step that has been done."""

    unit_id: Id
    step: str
    started_at: datetime
    ended_at: datetime
    bay_id: Id | None = None
    people: Words = ()
