"""A schedule as it is written out, read back and checked. All moments are aware datetimes."""

from collections import Counter
from datetime import datetime
from enum import StrEnum
from typing import Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from scheduler.shop.methods import Step

SCHEMA_VERSION: Final = "2"


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
    """What one pack gives to one step.

    A cartridge of the stock table of opened packs keeps its ``pack_id``; the third pack that the plan opens of lot
    ``LN-167`` is ``LN-167#003``.
    """

    cartridge_id: str
    lot_id: str
    begins: Literal["opened", "resumed", "continued"] = Field(
        description="opened anew; resumed after it was recapped; continued on the same gun within the gel time"
    )
    purge_ml: float = Field(ge=0, description="to waste before this step: first shot or recap purge")
    sprayed_ml: float = Field(ge=0, description="what leaves the gun for the work, losses in spraying included")
    left_ml: float = Field(ge=0, description="left in the pack after the step, heel included")
    warmer_id: str | None = Field(None, description="warmer and its number in its row, H1#1; empty where nothing is warmed")
    slot: int | None = Field(None, ge=1, description="slot of the warmer")
    loaded_at: datetime | None = Field(None, description="when it goes into that slot; it stays until the step")
    reason: str = Field("", description="why a new pack is opened although others stand opened")


class WarmerLoad(Frozen):
    """Cartridges of one step that go into one warmer together."""

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
    draws: tuple[Draw, ...] = Field((), description="by pack, in the order in which they are sprayed")
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

    @property
    def packs(self) -> int:
        """Packs to have ready for the step."""
        return len(self.draws)

    @property
    def loads(self) -> tuple[WarmerLoad, ...]:
        """Cartridges to put into warmers, by warmer and time."""
        places = ((d.warmer_id, d.loaded_at) for d in self.draws if d.warmer_id is not None and d.loaded_at is not None)
        return tuple(
            WarmerLoad(equipment_id=warmer, cartridges=count, loaded_at=at) for (warmer, at), count in Counter(places).items()
        )


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
    found_by: str = Field(description="insertion, improvement, window or cp-sat")
    progress: tuple[Progress, ...] = ()


class Schedule(Frozen):
    """A whole schedule."""

    schema_version: Literal["2"] = SCHEMA_VERSION
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
