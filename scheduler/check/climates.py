"""Hours of each bay and of the yard: which exist, and which refuse the limits of a step or a film."""

from bisect import bisect_left
from datetime import datetime, timedelta
from functools import cached_property
from math import ceil, floor

import numpy as np

from scheduler.check.moments import hours
from scheduler.physics.hourly import HourlyWeather
from scheduler.physics.weather_window import BayClimate, Limits, hours_allowed, reasons_refused
from scheduler.shop.forecast import bay_climate, hourly_weather
from scheduler.shop.shop import Shop


class Climates:
    """Climate of each bay by id, the yard under no id; every series is computed once, when it is first asked for.

    Parameters
    ----------
    shop : Shop
        With its weather.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._climate: dict[str | None, BayClimate] = {}
        self._refused: dict[tuple[str | None, Limits], list[int]] = {}

    @cached_property
    def weather(self) -> HourlyWeather:
        """Weather of the horizon."""
        return hourly_weather(self._shop)

    @cached_property
    def ends(self) -> datetime:
        """End of the last hour that is known, UTC; nothing may be planned past it."""
        return self.weather.start_utc + timedelta(hours=len(self.weather))

    def hour_start(self, hour: int) -> datetime:
        """Return the start of an hour by its place, UTC."""
        return self.weather.start_utc + timedelta(hours=hour)

    def of_bay(self, bay_id: str | None) -> BayClimate:
        """Return the climate of a bay, of the yard for None."""
        if bay_id not in self._climate:
            bay = None if bay_id is None else self._shop.bay_by_id[bay_id]
            self._climate[bay_id] = bay_climate(self._shop, self.weather, bay)
        return self._climate[bay_id]

    def hours_touched(self, start: datetime, end: datetime) -> range:
        """Return the places of the known hours in which a time lies, wholly or in part."""
        first, last = hours(self.weather.start_utc, start), hours(self.weather.start_utc, end)
        return range(max(floor(first), 0), min(max(ceil(last), 0), len(self.weather)))

    def refused(self, bay_id: str | None, limits: Limits, start: datetime, end: datetime) -> list[int]:
        """Return the places of the hours from start to end that break a limit."""
        key = (bay_id, limits)
        if key not in self._refused:
            self._refused[key] = np.flatnonzero(~hours_allowed(self.of_bay(bay_id), limits)).tolist()
        touched, refused = self.hours_touched(start, end), self._refused[key]
        return refused[bisect_left(refused, touched.start) : bisect_left(refused, max(touched.stop, touched.start))]

    def why(self, bay_id: str | None, limits: Limits, hour: int) -> str:
        """Return the limits that an hour breaks, in words with both figures."""
        return ", ".join(reasons_refused(self.of_bay(bay_id), limits, hour))

    def coldest_air_c(self, bay_id: str | None, start: datetime, end: datetime) -> float | None:
        """Return the lowest air temperature of the hours from start to end, °C; None if none of them is known."""
        touched = self.hours_touched(start, end)
        air_c = self.of_bay(bay_id).air_temp_c[touched.start : touched.stop]
        return float(air_c.min()) if len(air_c) else None
