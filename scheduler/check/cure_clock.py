"""How far a film has come: shares of a sheet time used up at the steel temperature of a bay, hour by hour.

Least times take the steel as the climate gives it, which leans to the cold; a longest time takes the warmer of steel and
air, so that a window is never thought open too long.
"""

from bisect import bisect_left
from collections.abc import Callable
from datetime import datetime, timedelta
from math import inf
from typing import Final, Literal

from scheduler.check.moments import hours
from scheduler.physics.curing import Bound, SheetTimes, progress
from scheduler.physics.weather_window import BayClimate
from scheduler.shop.product_sheet import Product, ProductTime
from scheduler.shop.shop import Shop

Clock = Literal["tack_free_h", "rain_safe_h", "recoat_min_h", "recoat_max_h", "handle_h", "service_h"]

NEARLY: Final = 1e-6
"""Share of a sheet time that rounding may cost."""

_INSTANT_H: Final = 1e-6
_NOISE: Final = 1e-9


class CureClock:
    """Shares of sheet times, each series computed once for a bay, a product and a time of its sheet.

    Parameters
    ----------
    shop : Shop
        Whose sheets are read.
    climate_of : callable
        Climate of a bay by its id.
    """

    def __init__(self, shop: Shop, climate_of: Callable[[str], BayClimate]) -> None:
        self._shop = shop
        self._climate_of = climate_of
        self._series: dict[tuple[str, str, Clock], list[float]] = {}

    def share(self, bay_id: str, product: Product, clock: Clock, start: datetime, end: datetime) -> float:
        """Return the share of a sheet time that passes between two instants.

        Before the first known hour a least time stands still and a longest one runs as in that hour; after the last
        both stand still, and nothing may be planned there.
        """
        return self._at(bay_id, product, clock, end) - self._at(bay_id, product, clock, start)

    def reached(self, bay_id: str, product: Product, clock: Clock, start: datetime) -> datetime | None:
        """Return when the whole sheet time has passed since an instant, None if the known hours end before."""
        series = self._of(bay_id, product, clock)
        goal = self._at(bay_id, product, clock, start) + 1.0
        after = max(bisect_left(series, goal - _NOISE), 1)
        if after >= len(series):
            return None
        before = series[after - 1]
        part = min(max((goal - before) / (series[after] - before), 0.0), 1.0)
        return self._climate_of(bay_id).start_utc + timedelta(hours=after - 1 + part)

    def steel_c(self, bay_id: str, start: datetime, end: datetime) -> float:
        """Return the mean steel temperature of the hours that a time touches, °C; for words only."""
        climate = self._climate_of(bay_id)
        first, last = (min(max(int(hours(climate.start_utc, t)), 0), len(climate) - 1) for t in (start, end))
        return float(climate.steel_temp_c[first : last + 1].mean())

    def _at(self, bay_id: str, product: Product, clock: Clock, moment: datetime) -> float:
        """Return the running share at a moment, a straight line within each hour."""
        series = self._of(bay_id, product, clock)
        earliest = -inf if clock == "recoat_max_h" else 0.0
        place = min(max(hours(self._climate_of(bay_id).start_utc, moment), earliest), len(series) - 1.0)
        hour = min(max(int(place), 0), len(series) - 2)
        return series[hour] + (place - hour) * (series[hour + 1] - series[hour])

    def _of(self, bay_id: str, product: Product, clock: Clock) -> list[float]:
        key = (bay_id, product.product_id, clock)
        if key not in self._series:
            bound: Bound = "maximum" if clock == "recoat_max_h" else "minimum"
            climate, sheet = self._climate_of(bay_id), sheet_times(self._shop.times_of[product.product_id], clock)
            temp_c = climate.warmest_steel_c if bound == "maximum" else climate.steel_temp_c
            self._series[key] = progress(sheet, temp_c, 1.0, bound).tolist()
        return self._series[key]


def sheet_times(rows: tuple[ProductTime, ...], clock: Clock) -> SheetTimes:
    """Return one time of a product's sheet; a time of nothing passes at once."""
    return SheetTimes(tuple(row.temp_c for row in rows), tuple(max(float(getattr(row, clock)), _INSTANT_H) for row in rows))
