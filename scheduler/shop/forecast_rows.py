"""Rows of weather as they stand in the shop folder."""

from typing import Annotated

from pydantic import Field

from scheduler.shop.fields import NotNegative, Row
from scheduler.shop.time_fields import Moment

AirTemp = Annotated[float, Field(ge=-45, le=60)]
DewPoint = Annotated[float, Field(ge=-60, le=60)]
Humidity = Annotated[float, Field(ge=0.1, le=100)]
Wind = Annotated[float, Field(ge=0, le=110)]


class WeatherHour(Row):
    """One hour of the forecast."""

    at: Moment = Field(description="start of the hour, with its offset (Z or +01:00)")
    air_temp_c: AirTemp
    dew_point_c: DewPoint | None = None
    rh_pct: Humidity | None = Field(None, description="used where the dew point is empty")
    wind_m_s: Wind = 0.0
    rain_mm: NotNegative = 0.0


class TypicalHour(Row):
    """One hour of a typical year, in local standard time."""

    month: Annotated[int, Field(ge=1, le=12)]
    day: Annotated[int, Field(ge=1, le=31)]
    hour: Annotated[int, Field(ge=0, le=23)]
    air_temp_c: AirTemp
    dew_point_c: DewPoint
    wind_m_s: Wind = 0.0
    rain_mm: NotNegative = 0.0
