"""The steps of a unit as a route holds them."""

from dataclasses import dataclass

from scheduler.activities.films import Film, Films
from scheduler.shop.methods import Method, Step


@dataclass(frozen=True, slots=True)
class NeededStep:
    """A step of a unit: how much, by which method, in which stage, and why.

    ``stage`` is empty for steps in the yard. ``film`` is set for film steps. ``rest_of`` names the step that was stopped and
    of which this is what is left.
    """

    step: Step
    name: str
    stage: str
    method: Method
    area_m2: float
    reason: str
    film: Film | None = None
    rest_of: str = ""

    @property
    def minutes(self) -> float:
        """Attended minutes."""
        rate = self.method.m2_per_h
        return self.method.set_up_min + (self.area_m2 / rate * 60 if rate else 0.0)


@dataclass(frozen=True, slots=True)
class Route:
    """A unit's steps in order, and its films with what follows what."""

    unit_id: str
    steps: tuple[NeededStep, ...]
    films: Films
