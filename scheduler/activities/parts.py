"""Parts of a unit's surfaces: bare, sound or blistered, each of which gets the same films throughout."""

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.shop.shop import Shop
from scheduler.shop.unit import Substrate, Surface


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a surface that gets the same films throughout, and its area."""

    surface: Surface
    state: Substrate
    area_m2: float


def parts_of(shop: Shop, unit_id: str) -> tuple[Part, ...]:
    """Split a unit's surfaces into parts that are bare, sound or blistered; flakes come off and leave bare steel."""
    return tuple(part for surface in shop.surfaces_of[unit_id] for part in _split(surface) if part.area_m2 > 0)


def _split(surface: Surface) -> Iterator[Part]:
    share = surface.failing_pct / 100
    if surface.substrate is Substrate.BLISTERED:
        yield Part(surface, Substrate.BLISTERED, surface.area_m2 * share)
        return
    bare = {Substrate.BARE: 1.0, Substrate.SOUND: 0.0, Substrate.FAILING: share}[surface.substrate]
    yield Part(surface, Substrate.BARE, surface.area_m2 * bare)
    yield Part(surface, Substrate.SOUND, surface.area_m2 * (1 - bare))
