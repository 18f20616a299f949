"""A schedule as it is written out, read back and checked. All moments are aware datetimes."""

from datetime import datetime
from enum import StrEnum
from typing import Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from scheduler.shop.methods import Step

SCHEMA_VERSION: Final = "1"


class Frozen(BaseModel):
    """A frozen part of a schedule; unknown fields are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Status(StrEnum):
    """The four answers of a search."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    UNKNOWN = "unknown"


class Span(Frozen):
    """A stretch of attended work without a pause."""

    start: datetime
    end: datetime


class Assigned(Frozen):
    """A named person and the skill they are there for."""

    person_id: str
    skill: str


class Draw(Frozen):
    """Material taken from a lot (whole packs) or from one opened pack."""

    source: Literal["lot", "opened"]
    source_id: str = Field(description="lot_id of a lot, pack_id of an opened pack")
    packs: int = Field(ge=1, description="packs taken; 1 for an opened pack")


class WarmerLoad(Frozen):
    """Cartridges of one step in one warmer, from loading until the step ends."""

    equipment_id: str
    cartridges: int = Field(ge=1)
    loaded_at: datetime


class Work(Frozen):
    """One attended step of a unit.

    ``spans`` has one stretch for work that may not pause; ``reason`` says why the step is there;
    ``tools`` holds the ids of the equipment in use, ``G1#2`` for the second of a row with a count above one.
    """

    work_id: str = Field(description="unit_id/name")
    unit_id: str
    order_id: str
    step: Step
    name: str = Field(description="step with its number where there are several: coat-2")
    reason: str
    bay_id: str | None = Field(description="empty in the yard")
    spans: tuple[Span, ...] = Field(min_length=1)
    people: tuple[Assigned, ...]
    tools: tuple[str, ...] = ()
    product_id: str | None = None
    area_m2: float = 0.0
    coat_numbers: tuple[int, ...] = Field((), description="numbers of the coats of the coating systems that the step applies")
    volume_ml: float = 0.0
    packs: int = Field(0, description="packs to have ready for the step")
    draws: tuple[Draw, ...] = ()
    loads: tuple[WarmerLoad, ...] = ()
    typical_weather: bool = Field(default=False, description="rests on hours past the end of the forecast")
    done: bool = Field(default=False, description="history, as recorded")

    @property
    def start(self) -> datetime:
        """When the step starts."""
        return self.spans[0].start

    @property
    def end(self) -> datetime:
        """When the step ends."""
        return self.spans[-1].end


class Stay(Frozen):
    """A unit in a place of a bay, waiting times included."""

    unit_id: str
    stage: str
    bay_id: str
    place: int = Field(ge=1)
    start: datetime
    end: datetime


class DeliveryDate(Frozen):
    """When a customer gets its units back."""

    order_id: str
    customer: str
    due_at: datetime
    delivered_at: datetime = Field(description="last unit of the order")
    units: dict[str, datetime] = Field(description="unit_id to hand-over")
    days_late: int = Field(ge=0, description="of the last unit, in calendar days at the site")
    typical_weather: bool = False


class GoalValue(Frozen):
    """One goal in the order in which the goals count."""

    name: str
    value: float
    bound: float | None = Field(description="no schedule can be below this; empty where none is known")
    unit: str
    proven: bool = Field(description="the value equals its bound, the goals before it held at their values")


class Progress(Frozen):
    """A point of the search's history."""

    at_s: float
    objective: float
    bound: float


class Provenance(Frozen):
    """Where a schedule comes from."""

    made_at: datetime
    coatrun_version: str
    solver: str
    input_hash: str
    seed: int
    workers: int
    status: Status
    gap: float = Field(description="(objective - bound) / max(objective, 1) of the first goal")
    first_schedule_s: float | None
    search_s: float
    peak_memory_mb: float | None
    found_by: str = Field(description="insertion, improvement or cp-sat")
    progress: tuple[Progress, ...] = ()


class Schedule(Frozen):
    """A whole schedule."""

    schema_version: Literal["1"] = SCHEMA_VERSION
    site: str
    zone: str
    plan_from: datetime
    plan_until: datetime
    forecast_until: datetime | None = Field(description="last moment that rests on the forecast; later ones on a typical year")
    provenance: Provenance
    goals: tuple[GoalValue, ...]
    work: tuple[Work, ...]
    stays: tuple[Stay, ...]
    deliveries: tuple[DeliveryDate, ...]
