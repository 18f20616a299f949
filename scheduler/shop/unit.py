"""Customers' batches, the units in them and the surfaces to coat."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from scheduler.shop.fields import Flag, Id, Name, Percent, Positive, Row
from scheduler.shop.time_fields import Moment


class Delivery(StrEnum):
    """How a customer takes its units back."""

    TOGETHER = "together"
    SINGLY = "singly"


class Substrate(StrEnum):
    """What the coating will stand on."""

    BARE = "bare"
    SOUND = "sound"
    FAILING = "failing"
    BLISTERED = "blistered"


class Duty(StrEnum):
    """What the surface must endure: weather and salt, or things that hit it."""

    RUST = "rust"
    IMPACT = "impact"


class Order(Row):
    """A customer's batch."""

    order_id: Id
    customer: Name
    due_at: Moment = Field(description="local time at the site unless it carries an offset")
    weight: Annotated[int, Field(ge=1, le=1000)] = Field(1, description="how much a day late of this order matters")
    delivery: Delivery = Field(Delivery.TOGETHER, description="late with its last unit (together) or unit by unit (singly)")
    most_units_away: Annotated[int, Field(ge=1)] | None = Field(
        None, description="most units that the customer can spare at once; empty for no limit"
    )


class Unit(Row):
    """One item to coat."""

    unit_id: Id
    order_id: Id
    name: Name
    length_m: Positive
    width_m: Positive
    height_m: Positive
    mass_kg: Positive
    available_from: Moment
    must_leave_by: Moment | None = None


class Surface(Row):
    """One surface of a unit."""

    unit_id: Id
    surface: Name
    area_m2: Positive
    substrate: Substrate
    failing_pct: Percent = Field(0.0, description="share that comes off in flakes (failing) or has blistered; the rest is sound")
    profile_um: Annotated[float, Field(ge=0, le=300)] = Field(75.0, description="peak-to-valley height after abrading")
    duty: Duty = Duty.RUST
    grip: Flag = Field(False, description="wants a texture coat for grip")
    system_id: Id
