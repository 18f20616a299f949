"""What the shop has: bays, people and equipment."""

import re
from enum import StrEnum
from typing import Annotated

from pydantic import Field

from scheduler.shop.fields import (
    CelsiusMaterial,
    Count,
    Flag,
    Hours,
    Id,
    Minutes,
    Name,
    NotNegative,
    Percent,
    Positive,
    Row,
    Words,
)

Heating = Annotated[float, Field(ge=-20, le=50)]
Drying = Annotated[float, Field(ge=1, le=100)]


def is_stay_of(stage: str, stay: str) -> bool:
    """Whether a stay is one in a stage, or of a unit that is brought back to it: coat-r2 comes back to coat."""
    return re.fullmatch(f"{re.escape(stage)}(-r[0-9]+)*", stay) is not None


class Bay(Row):
    """A place to work."""

    bay_id: Id
    name: Name
    stages: Words = Field(description="stages that may be done here, such as 'prepare coat'")
    places: Annotated[int, Field(ge=1, le=200)] = 1
    outdoor: Flag = False
    air_space: Id = Field(description="bays that share their air carry the same word")
    max_length_m: Positive
    max_width_m: Positive
    max_height_m: Positive
    max_mass_kg: Positive
    heated_to_c: Annotated[float, Field(ge=-20, le=50)] | None = Field(
        None, description="air is kept at least this warm; empty for unheated"
    )
    rh_held_pct: Annotated[float, Field(ge=1, le=100)] | None = Field(
        None, description="a dryer keeps the humidity at or below this; empty for none"
    )
    steel_lag_h: Hours = Field(1.0, description="time constant with which steel follows the air")

    def takes(self, stage: str) -> bool:
        """Whether a stage may be done here, or a unit be brought back to it: coat-r2 comes back to coat."""
        return any(is_stay_of(own, stage) for own in self.stages)


class Person(Row):
    """A member of the crew."""

    person_id: Id
    name: Name
    skills: Words
    shift_id: Id
    respirator_h: Hours = Field(6.0, description="longest time under a respirator in a day")


class Kind(StrEnum):
    """Kinds of equipment."""

    WARMER = "warmer"
    COMPRESSOR = "compressor"
    GUN = "gun"
    GRINDER = "grinder"
    WASHER = "washer"
    LIFT = "lift"
    TRUCK = "truck"


class Equipment(Row):
    """A piece of equipment, or several alike."""

    equipment_id: Id
    kind: Kind
    name: Name
    count: Annotated[int, Field(ge=0, le=500)] = 1
    slots: Count | None = Field(None, description="warmer: cartridges it holds")
    set_point_c: CelsiusMaterial | None = Field(None, description="warmer: air temperature")
    film_w_m2k: Positive | None = Field(None, description="warmer: film coefficient at the cartridge")
    fad_l_s: NotNegative | None = Field(None, description="compressor: free air delivery, not displacement")
    receiver_l: NotNegative | None = None
    cut_out_bar: Positive | None = Field(None, description="compressor: highest receiver pressure, gauge")
    gun_bar: Positive | None = Field(None, description="lowest pressure that the tools need, gauge")
    air_l_s: NotNegative | None = Field(None, description="tool: free air while it pulls")
    duty_pct: Percent | None = Field(None, description="tool: share of its time that it pulls")
    pull_s: Positive | None = Field(None, description="tool: longest pull in one go")
    lift_kg: Positive | None = Field(None, description="lift: heaviest unit")
    change_min: Minutes = Field(0.0, description="gun: change of mixer and product")
    rent_per_day: NotNegative = Field(0.0, description="hire from first to last use")
