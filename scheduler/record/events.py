"""What can be recorded: one frozen model a kind of event, told apart by ``kind``.

An event says when it happened, when it was recorded and by whom, and never changes. Its id is a fingerprint of what it says
has happened, so that the same report sent twice is the same event, whoever sends it and when.
"""

import hashlib
import json
from datetime import datetime
from enum import StrEnum
from typing import Annotated, Final, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, TypeAdapter

from scheduler.shop.calendar import Shut
from scheduler.shop.fields import Id, IdOrNone, Name, NotNegative, PackId, Percent
from scheduler.shop.forecast_rows import AirTemp, DewPoint, Humidity, WeatherHour
from scheduler.shop.time_fields import Day

EVENT_VERSION: Final = "1"
_NOT_SAID: Final = {"id", "recorded_at", "by", "note", "taken", "planned_end"}
"""Who told it and when, and what was filled in from the plan."""
Piece = PackId
Words = Annotated[str, Field(max_length=500)]


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


class Fate(StrEnum):
    """What became of a pack after use."""

    EMPTIED = "emptied"
    RECAPPED = "recapped"
    THROWN_AWAY = "thrown_away"


class Event(BaseModel):
    """What all events say.

    Attributes
    ----------
    id : str
        Fingerprint of the rest; empty until it is sealed.
    happened_at : datetime
        Aware.
    recorded_at : datetime
        Aware.
    by : str
        Who reported it, in their own words.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    version: Literal["1"] = EVENT_VERSION
    id: str = ""
    happened_at: AwareDatetime
    recorded_at: AwareDatetime
    by: Words = ""
    note: Words = ""


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
    """A step was broken off and is not finished; all of it is still to do."""

    kind: Literal["stopped"] = "stopped"
    why: Name


class Failed(OfStep):
    """A finished step turned out bad."""

    kind: Literal["failed"] = "failed"
    cause: Name = Field(description="blisters, runs, too thin, dirt, rain ...")
    share_pct: Percent = Field(default=100.0, description="share of the area; less than all of a film is cut out and touched up")


class Loaded(OfStep):
    """Cartridges for a step were put into a warmer."""

    kind: Literal["loaded"] = "loaded"
    warmer_id: Piece
    lot_id: Id
    cartridges: Annotated[int, Field(ge=1, le=10_000)]


class Used(Event):
    """Material was taken from a pack."""

    kind: Literal["used"] = "used"
    cartridge_id: PackId
    lot_id: Id
    ml: NotNegative
    fate: Fate = Fate.EMPTIED
    unit_id: Id | None = None
    step: Id | None = None


class Reading(Event):
    """Something was measured, on a unit or in a bay."""

    kind: Literal["reading"] = "reading"
    unit_id: Id | None = None
    bay_id: Id | None = None
    air_c: AirTemp | None = None
    steel_c: Annotated[float, Field(ge=-45, le=120)] | None = None
    dew_point_c: DewPoint | None = None
    rh_pct: Humidity | None = None
    dft_um: tuple[Annotated[float, Field(ge=0, le=20_000)], ...] = ()


class Arrived(Event):
    """A unit is there, or word came when it will be: ``happened_at`` is the moment of its arrival."""

    kind: Literal["arrived"] = "arrived"
    unit_id: Id


class Away(Event):
    """Somebody is not there for a time that begins at ``happened_at``."""

    kind: Literal["away"] = "away"
    person_id: Id
    until: AwareDatetime
    why: Name = "absent"


class Down(Event):
    """A bay or a piece of equipment is out of service for a time that begins at ``happened_at``."""

    kind: Literal["down"] = "down"
    what: Literal[Shut.BAY, Shut.EQUIPMENT, Shut.SITE]
    which: IdOrNone = ""
    until: AwareDatetime
    why: Name = "out of service"


class Delivered(Event):
    """Packs of a lot came."""

    kind: Literal["delivered"] = "delivered"
    lot_id: Id
    product_id: Id
    packs: Annotated[int, Field(ge=1, le=100_000)]
    expires_on: Day


class Rejected(Event):
    """What is left of a lot may not be used."""

    kind: Literal["rejected"] = "rejected"
    lot_id: Id
    why: Name = "rejected"


class Forecast(Event):
    """Hours of a new forecast; they replace those of the old one and leave all others."""

    kind: Literal["forecast"] = "forecast"
    hours: tuple[WeatherHour, ...] = Field(min_length=1)


Plain = Started | Finished | Stopped | Failed | Loaded | Used | Reading | Arrived | Away | Down | Delivered | Rejected | Forecast


class Correction(Event):
    """An earlier event was wrong: ``instead`` takes its place, or nothing does."""

    kind: Literal["correction"] = "correction"
    corrects: str = Field(min_length=1, description="id of the event that was wrong, or of its latest correction")
    instead: Annotated[Plain, Field(discriminator="kind")] | None = None


AnyEvent = Plain | Correction
ADAPTER: Final[TypeAdapter[AnyEvent]] = TypeAdapter(Annotated[AnyEvent, Field(discriminator="kind")])
KINDS: Final = tuple(model.model_fields["kind"].default for model in (*Plain.__args__, Correction))


def fingerprint(event: AnyEvent) -> str:
    """Eight hexadecimal digits of what an event says has happened, whoever recorded it and when.

    Moments count as instants, whatever offset they are written with.
    """
    said = event.model_dump(mode="json", exclude=_NOT_SAID)
    said |= {name: value.timestamp() for name in said if isinstance(value := getattr(event, name), datetime)}
    if isinstance(event, Correction) and event.instead is not None:
        said["instead"] = fingerprint(event.instead)
    text = json.dumps(said, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:8]


def sealed(event: AnyEvent) -> AnyEvent:
    """Return the event with its id."""
    return event.model_copy(update={"id": fingerprint(event)})
