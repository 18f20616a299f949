"""What has already happened to a unit, and what it means for the steps that are left."""

from dataclasses import dataclass
from datetime import datetime

from scheduler.activities.climates import Climates, sheet_of
from scheduler.activities.network import Curve
from scheduler.physics.curing import rate_per_h
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
        """Slot before which a done step has ended, rounded up; 0 for anything before the plan."""
        grid = self.climates.grid
        return int(grid.first_from(max(grid.minutes_at(self.ended(name)), 0.0)))

    def ready(self, name: str, curve: Curve) -> int:
        """First start after a done step whose wait is a curve; what came before the plan is counted from its start."""
        return curve[self.end_slot(name)]

    def ready_after_min(self, name: str, minutes: float) -> int:
        """First start once ``minutes`` have passed since a done step."""
        grid = self.climates.grid
        return int(grid.first_from(grid.minutes_at(self.ended(name)) + minutes))

    def until_min(self, name: str, minutes: float) -> int:
        """Last start before ``minutes`` have passed since a done step."""
        grid = self.climates.grid
        return int(grid.last_until(grid.minutes_at(self.ended(name)) + minutes))

    def recoat_until(self, name: str, bay_class: int, product_id: str) -> int:
        """Last start before the recoat maximum of a done film is up.

        The steel temperatures before the plan are not in the forecast: they are taken to be that of its first hour.
        """
        grid, climate = self.climates.grid, self.climates.at(bay_class).climate
        sheet = sheet_of(self.shop, product_id, lambda row: row.recoat_max_h)
        passed_min = grid.minutes_at(self.ended(name))
        if passed_min >= 0:
            return self.climates.closes(bay_class, product_id)[self.end_slot(name)]
        rate = float(rate_per_h(sheet, float(climate.warmest_steel_c[0]), "maximum"))
        return int(grid.last_until(passed_min + 60 / rate))
