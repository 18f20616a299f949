"""Settings of a site: where it is, the horizon, the grid, what people read and the defaults of the trade."""

from enum import StrEnum
from typing import Annotated, Self
from zoneinfo import ZoneInfo, available_timezones

from pydantic import AfterValidator, Field, model_validator

from scheduler.shop.fields import CelsiusMaterial, FileName, Minutes, Name, NotNegative, Positive, Row
from scheduler.shop.time_fields import Moment


class UnitSystem(StrEnum):
    """What people read; files stay in the units that their column names say."""

    SI = "si"
    US = "us"


def _zone(name: str) -> str:
    if name not in available_timezones():
        msg = f"'{name}' is not in the zone database; write it as Europe/Berlin or America/Chicago"
        raise ValueError(msg)
    return name


class Site(Row):
    """Settings of ``site.toml``."""

    name: Name
    zone: Annotated[str, AfterValidator(_zone)]
    latitude_deg: Annotated[float, Field(ge=-90, le=90)]
    longitude_deg: Annotated[float, Field(ge=-180, le=180)]
    altitude_m: Annotated[float, Field(ge=-500, le=5000)] = 0.0
    plan_from: Moment = Field(description="first moment that may be planned")
    plan_until: Moment = Field(description="last moment that may be planned")
    grid_min: Annotated[int, Field(ge=5, le=60)] = Field(15, description="length of a slot; divides an hour")
    reads: UnitSystem = UnitSystem.SI
    yard_places: Annotated[int, Field(ge=1, le=10_000)] = Field(40, description="units on the site at once")
    store_temp_c: CelsiusMaterial = Field(15.0, description="coldest that cartridges are stored")
    bench_film_w_m2k: Positive = Field(8.0, description="film coefficient of a cartridge outside the warmer")
    sky_film_w_m2k: Positive = Field(10.0, description="film coefficient of steel outdoors on a clear night")
    spray_load_min: Minutes = Field(2.0, description="longest time a cartridge lies outside the warmer before it is sprayed")
    overtime_cost_per_h: NotNegative = 40.0
    typical_year: FileName = Field("", description="file in the shop folder for hours past the forecast; empty for none")

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if 60 % self.grid_min:
            msg = f"grid_min = {self.grid_min} does not divide an hour; use 5, 6, 10, 12, 15, 20, 30 or 60"
            raise ValueError(msg)
        return self

    @property
    def tz(self) -> ZoneInfo:
        """The site's zone."""
        return ZoneInfo(self.zone)
