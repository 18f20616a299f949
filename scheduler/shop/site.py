"""Settings of a site: where it is, the horizon, the grid, what people read and the defaults of the trade."""

from enum import StrEnum
from typing import Annotated, Final
from zoneinfo import ZoneInfo

from pydantic import AfterValidator, Field

from scheduler.shop.fields import CelsiusMaterial, FileName, Minutes, Name, NotNegative, Positive, Row
from scheduler.shop.moments import zone_of
from scheduler.shop.time_fields import Moment

LONGEST_HORIZON_D: Final = 366


class UnitSystem(StrEnum):
    """What people read; files stay in the units that their column names say."""

    SI = "si"
    US = "us"


def _zone(name: str) -> str:
    if zone_of(name) is None:
        msg = f"'{name}' is no zone of the zone database; write it as Europe/Berlin or America/Chicago"
        raise ValueError(msg)
    return name


def _divides_hour(minutes: int) -> int:
    if 60 % minutes:
        msg = f"{minutes} minutes do not divide an hour; use 5, 6, 10, 12, 15, 20, 30 or 60"
        raise ValueError(msg)
    return minutes


class Site(Row):
    """Settings of ``site.toml``."""

    name: Name
    zone: Annotated[str, AfterValidator(_zone)]
    latitude_deg: Annotated[float, Field(ge=-90, le=90)]
    longitude_deg: Annotated[float, Field(ge=-180, le=180)]
    altitude_m: Annotated[float, Field(ge=-500, le=5000)] = 0.0
    plan_from: Moment = Field(description="first moment that may be planned")
    plan_until: Moment = Field(description="last moment that may be planned")
    grid_min: Annotated[int, Field(ge=5, le=60), AfterValidator(_divides_hour)] = Field(
        15, description="length of a slot; divides an hour"
    )
    reads: UnitSystem = UnitSystem.SI
    yard_places: Annotated[int, Field(ge=1, le=10_000)] = Field(40, description="units on the site at once")
    store_temp_c: CelsiusMaterial = Field(15.0, description="coldest that cartridges are stored")
    bench_film_w_m2k: Positive = Field(8.0, description="film coefficient of a cartridge outside the warmer")
    sky_film_w_m2k: Positive = Field(10.0, description="film coefficient of steel outdoors on a clear night")
    spray_load_min: Minutes = Field(2.0, description="longest time a cartridge lies outside the warmer before it is sprayed")
    overtime_cost_per_h: NotNegative = 40.0
    typical_year: FileName = Field("", description="file in the shop folder for hours past the forecast; empty for none")

    @property
    def horizon_d(self) -> float:
        """Length of the horizon in days; negative if it ends before it starts."""
        return (self.plan_until.timestamp() - self.plan_from.timestamp()) / 86_400

    @property
    def is_plannable(self) -> bool:
        """Whether the horizon has a length for which a plan can be made."""
        return 0 < self.horizon_d <= LONGEST_HORIZON_D

    @property
    def tz(self) -> ZoneInfo:
        """The site's zone."""
        return ZoneInfo(self.zone)
