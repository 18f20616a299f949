"""Coating systems: which coats go on which surfaces, how thick and of what product."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from scheduler.shop.fields import Id, Positive, Row


class AppliesTo(StrEnum):
    """Which part of a unit a coat of the system covers."""

    BARE = "bare"
    ALL = "all"
    IMPACT = "impact"
    GRIP = "grip"


class Coat(Row):
    """One coat of a coating system, applied in the order of its number."""

    system_id: Id
    coat: Annotated[int, Field(ge=1, le=20)] = Field(description="order of application, 1 first")
    applies_to: AppliesTo = Field(
        AppliesTo.ALL,
        description="bare: primer, on bare steel only; all: every surface; impact: where things hit; grip: texture coat",
    )
    product_id: Id
    dft_um: Positive = Field(description="dry film thickness")
