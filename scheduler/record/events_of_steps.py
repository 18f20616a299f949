"""What can happen to a step of a unit: one frozen model a kind of event."""

from typing import Annotated, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

from scheduler.record.event import Event
from scheduler.shop.fields import Id, Name, NotNegative, PackId, Percent

Piece = PackId


class Taken(BaseModel):
    """Material that a step takes from one cartridge or can.

    ``taken_ml`` has the purge in it; ``left_ml`` is what the pack holds afterwards; ``opens`` says that it was a new one.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    cartridge_id: PackId
    lot_id: Id
    opens: bool
    taken_ml: NotNegative
    left_ml: NotNegative


class OfStep(Event):
    """An event of a step of a unit."""

    unit_id: Id
    step: Id

    @property
    def work_id(self) -> str:
        """Unit and step as the schedule names them."""
        return f"{self.unit_id}/{self.step}"


class Doing(OfStep):
    """An event of a step with where, by whom and from what it is done; empty where nobody said so."""

    bay_id: Id | None = None
    people: tuple[Id, ...] = ()
    tools: tuple[Piece, ...] = ()
    taken: tuple[Taken, ...] = Field(default=(), description="material as it was planned, until somebody reports what was used")


class Started(Doing):
    """A step was begun, or gone on with after a stop."""

    kind: Literal["started"] = "started"
    planned_end: AwareDatetime | None = Field(default=None, description="when it will have been done if all goes well")


class Finished(Doing):
    """A step was finished."""

    kind: Literal["finished"] = "finished"
    started_at: AwareDatetime | None = Field(default=None, description="for a step whose start was not recorded by itself")


class Stopped(OfStep):
    """A step was broken off and is not finished: what is not said to be done of it is still to do."""

    kind: Literal["stopped"] = "stopped"
    why: Name
    done_pct: Percent | None = Field(default=None, description="share of its area that is done, as somebody judged it")
    ml: NotNegative | None = Field(default=None, description="what had been used of the film's material, purge included")
    planned_ml: NotNegative = Field(default=0.0, description="what the whole film takes, as it was planned")

    @property
    def done_share(self) -> float:
        """Share of the step that is done, as it is said or as the material tells, 0 to 1."""
        if self.done_pct is not None:
            return self.done_pct / 100
        return min(1.0, self.ml / self.planned_ml) if self.ml is not None and self.planned_ml > 0 else 0.0

    @property
    def is_part(self) -> bool:
        """Whether some of the step is done and some is left, which is then a step of its own."""
        return 0.0 < self.done_share < 1.0


class Failed(OfStep):
    """A finished step turned out bad."""

    kind: Literal["failed"] = "failed"
    cause: Name = Field(description="blisters, runs, too thin, dirt, rain ...")
    share_pct: Percent = Field(
        default=100.0, gt=0, description="share of the area; less than all of a film is cut out and touched up"
    )


class Loaded(OfStep):
    """Cartridges for a step were put into a warmer."""

    kind: Literal["loaded"] = "loaded"
    warmer_id: Piece
    lot_id: Id
    cartridges: Annotated[int, Field(ge=1, le=10_000)]
