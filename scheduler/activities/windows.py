"""When a step may start: unbroken working time, its method's weather limits, its product's limits until rain safe."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.curves import cured_after_min, hours_since
from scheduler.activities.time_grid import TimeGrid
from scheduler.physics.curing import SheetTimes
from scheduler.physics.warm_up import Cartridge, out_of_warmer_min
from scheduler.physics.weather_window import BayClimate, hours_allowed
from scheduler.shop.product_sheet import Product
from scheduler.shop.weather_limits import product_limits, wet_limits

Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class SlotClimate:
    """A bay's climate seen from the work axis."""

    grid: TimeGrid
    climate: BayClimate

    @cached_property
    def hour(self) -> NDArray[np.int64]:
        """Index into the weather series of the hour that each working slot lies in; past its end where there is none."""
        hours = self.grid.start_min / 60 + hours_since(self.climate.start_utc, self.grid)
        return np.floor(hours + 1e-9).astype(np.int64)

    @cached_property
    def coldest_at_work_c(self) -> float:
        """Coldest air of any working slot, °C."""
        hours = np.clip(self.hour, 0, self.climate.air_temp_c.size - 1)
        return float(self.climate.air_temp_c[hours].min(initial=np.inf))

    def at_slots(self, hourly: Flags) -> Flags:
        """Flags of the working slots from flags of hours; a slot without weather is refused."""
        known = (self.hour >= 0) & (self.hour < hourly.size)
        return known & hourly[np.clip(self.hour, 0, hourly.size - 1)]


def unbroken(grid: TimeGrid, slots: int) -> Flags:
    """Starts from which ``slots`` working slots follow without a gap in real time, shape (n,)."""
    flags = np.zeros(len(grid), dtype=bool)
    if 0 < slots <= len(grid):
        flags[: len(grid) - slots + 1] = grid.real[slots - 1 :] - grid.real[: len(grid) - slots + 1] == slots - 1
    return flags


def all_through(flags: Flags, slots: int) -> Flags:
    """Starts from which ``slots`` slots in a row are flagged, shape (n,)."""
    total = np.concatenate([[0], np.cumsum(flags)])
    result = np.zeros(flags.size, dtype=bool)
    if 0 < slots <= flags.size:
        result[: flags.size - slots + 1] = total[slots:] - total[:-slots] == slots
    return result


def coolest_bench_c(cartridge: Cartridge, film_w_m2k: float, set_point_c: float, floor_c: float, needed_min: float) -> float:
    """Coldest air in which a cartridge stays above ``floor_c`` for ``needed_min`` out of the warmer, to 0.1 K, rounded up."""
    low, high = -400, int(floor_c * 10) + 1
    while low < high:
        middle = (low + high) // 2
        if out_of_warmer_min(cartridge, film_w_m2k, set_point_c, middle / 10, floor_c) >= needed_min:
            high = middle
        else:
            low = middle + 1
    return low / 10


def film_starts(at: SlotClimate, slots: int, product: Product, rain_safe: SheetTimes, bench_min_c: float | None) -> Flags:
    """Starts at which a film may be applied in a bay: limits hold to its end, and it stays dry until it can take weather."""
    grid, climate = at.grid, at.climate
    allowed = hours_allowed(climate, product_limits(product))
    if bench_min_c is not None:
        allowed = allowed & (climate.air_temp_c >= bench_min_c)
    flags = all_through(at.at_slots(allowed), slots)
    ends = np.minimum(np.arange(len(grid)) + slots, len(grid))
    return flags & _dry_after(at, hours_allowed(climate, wet_limits(product)), rain_safe)[ends]


def _dry_after(at: SlotClimate, dry: Flags, rain_safe: SheetTimes) -> Flags:
    """For each end, shape (n + 1,): every hour that is touched before the film is rain safe is dry."""
    grid = at.grid
    offset_h = hours_since(at.climate.start_utc, grid)
    safe_h = cured_after_min(grid, at.climate, rain_safe) / 60 + offset_h
    wet_until = np.concatenate([[0], np.cumsum(~dry)])
    known = safe_h <= dry.size
    first = np.clip(np.floor(grid.end_min / 60 + offset_h + 1e-9), 0, dry.size).astype(np.int64)
    last = np.clip(np.ceil(np.where(known, safe_h, 0) - 1e-9), 0, dry.size).astype(np.int64)
    dry_through: Flags = known & (wet_until[np.maximum(last, first)] == wet_until[first])
    return dry_through
