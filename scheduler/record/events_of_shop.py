"""What can happen to units, people, bays, equipment, stock and weather: one frozen model a kind of event."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AwareDatetime, Field

from scheduler.record.event import Event
from scheduler.shop.calendar import Shut
from scheduler.shop.fields import Id, IdOrNone, Name, NotNegative, PackId
from scheduler.shop.forecast_rows import AirTemp, DewPoint, Humidity, WeatherHour
from scheduler.shop.time_fields import Day


class Fate(StrEnum):
    """What became of a pack after use."""

    EMPTIED = "emptied"
    RECAPPED = "recapped"
    THROWN_AWAY = "thrown_away"


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
