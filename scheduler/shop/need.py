"""A step that a unit certainly needs, with area, minutes and packs."""

from dataclasses import dataclass
from math import ceil

from scheduler.shop.methods import Method, Step
from scheduler.shop.product_sheet import Product


@dataclass(frozen=True, slots=True)
class Need:
    """A step of a unit; ``method`` is None where the shop lacks the row, ``packs`` and volume are 0 where nothing is sprayed.

    ``rest_of`` names the stopped step of which this is what is left.
    """

    step: Step
    name: str
    area_m2: float
    method: Method | None
    product: Product | None = None
    packs: int = 0
    volume_ml: float = 0.0
    rest_of: str = ""

    @property
    def minutes(self) -> float:
        """Attended minutes."""
        if self.method is None:
            return 0.0
        rate = self.method.m2_per_h
        return self.method.set_up_min + (self.area_m2 / rate * 60 if rate else 0.0)

    @property
    def can_be_divided(self) -> bool:
        """Whether a share of it can be done: it has a rate over its area."""
        return self.method is not None and self.method.m2_per_h is not None and self.area_m2 > 0

    def slots(self, grid_min: int) -> int:
        """Attended slots of the grid, at least one."""
        return max(1, ceil(self.minutes / grid_min - 1e-9))
