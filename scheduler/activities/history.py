"""What has already happened to a unit, and what it means for the steps that are left."""

import math
from dataclasses import dataclass
from datetime import datetime

from scheduler.activities.climates import MINIMUM_CLOCKS, Climates, sheet_of
from scheduler.activities.curves import hours_since
from scheduler.activities.masks import below
from scheduler.activities.network import Mask
from scheduler.activities.unit_waits import Wait
from scheduler.physics.curing import finish_index, progress
from scheduler.shop.fixed import Done
from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class History:
    """Done steps of one unit by name."""

    shop: Shop
    climates: Climates
    done: dict[str, Done]

    def ended(self, name: str) -> datetime:
        """When a done step ended."""
        return self.done[name].ended_at

    def end_slot(self, name: str) -> int:
        """First slot after a done step has ended; 0 for anything before the plan."""
        grid = self.climates.grid
        return int(grid.first_from(max(grid.minutes_at(self.ended(name)), 0.0)))

    def cured(self, name: str, bay_class: int, product_id: str, clock: str) -> int:
        """First start once a minimum time of a done film is up, to the minute of its end.

        The steel temperatures before the weather series are not known: nothing cures before its first hour.
        """
        grid, climate = self.climates.grid, self.climates.at(bay_class).climate
        done = progress(sheet_of(self.shop, product_id, MINIMUM_CLOCKS[clock]), climate.steel_temp_c, 1.0, "minimum")
        offset_h = hours_since(climate.start_utc, grid)
        ended_h = min(max(grid.minutes_at(self.ended(name)) / 60 + offset_h, 0.0), done.size - 1.0)
        ready_h = float(finish_index(done, ended_h))
        return int(grid.first_from((ready_h - offset_h) * 60)) if math.isfinite(ready_h) else len(grid)

    def ready_after_min(self, name: str, minutes: float) -> int:
        """First start once ``minutes`` have passed since a done step."""
        grid = self.climates.grid
        return int(grid.first_from(grid.minutes_at(self.ended(name)) + minutes))

    def until_min(self, name: str, minutes: float) -> int:
        """Last start before ``minutes`` have passed since a done step."""
        grid = self.climates.grid
        return int(grid.last_until(grid.minutes_at(self.ended(name)) + minutes))

    def recoat_until(self, name: str, bay_class: int, product_id: str) -> int:
        """Last start before the recoat maximum of a done film is up, which started when the film ended, to the minute.

        The steel temperatures before the weather series are not known: they are taken to be that of its first hour.
        """
        grid, climate = self.climates.grid, self.climates.at(bay_class).climate
        sheet = sheet_of(self.shop, product_id, lambda row: row.recoat_max_h)
        done = progress(sheet, climate.warmest_steel_c, 1.0, "maximum")
        offset_h = hours_since(climate.start_utc, grid)
        ended_h = grid.minutes_at(self.ended(name)) / 60 + offset_h
        left = 1.0 + min(ended_h, 0.0) * float(done[1])
        if left <= 0:
            return -1
        closes_h = float(finish_index(done, min(max(ended_h, 0.0), done.size - 1.0), left))
        return int(grid.last_until((min(closes_h, done.size - 1.0) - offset_h) * 60))

    def open_after(self, wait: Wait, classes: tuple[int, ...]) -> Mask:
        """Slots at which a wait after a done step is over and not yet too long, in whichever of the classes it was done."""
        mask = below(len(self.climates.grid))
        for cls in classes:
            if cls in wait.earliest:
                mask &= ~below(self._ready(wait, cls))
            if cls in wait.latest:
                mask &= below(self._until(wait, cls) + 1)
        return mask

    def _ready(self, wait: Wait, bay_class: int) -> int:
        if wait.minutes is not None:
            return self.ready_after_min(wait.first, wait.minutes)
        return self.cured(wait.first, bay_class, wait.product_id, wait.clock)

    def _until(self, wait: Wait, bay_class: int) -> int:
        if wait.minutes is not None:
            return self.until_min(wait.first, wait.minutes)
        return self.recoat_until(wait.first, bay_class, wait.product_id)
