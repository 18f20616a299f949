"""What a person has fixed and what has already happened."""

from datetime import datetime
from enum import StrEnum
from typing import Annotated

from pydantic import Field

from scheduler.shop.fields import Id, Name, Percent, Row, Words
from scheduler.shop.time_fields import Day, Moment


class Pinned(Row):
    """A step that must start at a given time, in a given bay if one is named."""

    unit_id: Id
    step: Id = Field(description="step of the unit as in the schedule: abrade, coat-2, dispatch")
    start_at: Moment
    bay_id: Id | None = None


class Done(Row):
    """A step that has been done; one that ends after the plan begins is under way, and holds its people and tools until then."""

    unit_id: Id
    step: Id
    started_at: Moment
    ended_at: Moment
    bay_id: Id | None = None
    people: Words = ()
    tools: Words = Field(
        default=(), description="pieces of equipment in use, G1#2 for the second of a row with a count above one"
    )

    def is_under_way(self, now: datetime) -> bool:
        """Whether the step has begun at a moment and not ended."""
        return self.started_at <= now < self.ended_at


class Warming(Row):
    """The cartridges of a step that lie in a warmer already when the plan begins."""

    unit_id: Id
    step: Id = Field(description="film step of the unit as in the schedule: coat-2")
    loaded_at: Moment = Field(description="when the last of them was put in; before plan_from")


class ReworkKind(StrEnum):
    """Ways to make good what has gone wrong.

    ``wipe`` and ``abrade`` prepare the whole area of the next film again; ``repair`` cuts out a share of a film, wipes it
    and touches it up; ``redo`` abrades a film and puts it on once more; ``rest`` is what is left of a step that was stopped.
    """

    WIPE = "wipe"
    ABRADE = "abrade"
    REPAIR = "repair"
    REDO = "redo"
    REST = "rest"


class Rework(Row):
    """Steps that a unit needs beside those of its surfaces; the steps of its row number n are named with -rn: wipe-r1."""

    unit_id: Id
    after: Id = Field(description="step of the unit after which it is done, in the same stage; rest: the step that was stopped")
    kind: ReworkKind
    film: Id | None = Field(default=None, description="repair, redo: film step that is made good; the last one before if empty")
    share_pct: Percent = Field(
        default=100.0, description="repair: share of the film's area; rest: share of the step's area that is left to do"
    )
    reason: Name = "made good"
    number: Annotated[int, Field(ge=1, le=10_000)] | None = Field(
        default=None, description="the n of -rn, once told; the first that no row of the unit has if empty"
    )
    stage: Id | None = Field(
        default=None,
        description="repair, redo: stage in which a film is made good, to which the unit goes back; that in which it is if empty",
    )


class Hold(Row):
    """Capacity kept for units that were quoted, until a day; one row for each kind of unit of the quote."""

    hold_id: Id
    customer: Name
    like_unit: Id = Field(description="unit of the shop that those of the quote are like")
    count: Annotated[int, Field(ge=1, le=500)]
    arrives_at: Moment
    due_at: Moment = Field(description="hand-over that was quoted")
    most_units_away: Annotated[int, Field(ge=1)] | None = Field(None, description="most units that the customer can spare")
    held_until: Day = Field(description="last day on which the capacity is kept")
