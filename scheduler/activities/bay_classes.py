"""The bays on the grid: those that are alike as one class, when each is shut, and which units fit."""

from dataclasses import dataclass

from scheduler.activities.masks import below, span, union
from scheduler.activities.network import BayClass, Mask
from scheduler.activities.resources import shut_slots
from scheduler.activities.time_grid import TimeGrid
from scheduler.shop.calendar import Shut
from scheduler.shop.resources import Bay
from scheduler.shop.shop import Shop
from scheduler.shop.working_time import closed_spans, merged

YARD = "yard"


@dataclass(frozen=True, slots=True)
class _Shut:
    """Slots in which a bay is shut, and the first in which there may be work in it.

    One that is shut when the plan begins is not emptied: what stands in it stays, and nothing else can come in.
    """

    slots: Mask
    opens: int


def bay_classes(shop: Shop, grid: TimeGrid) -> list[BayClass]:
    """Group the bays that are alike in every respect; class 0 is the yard."""
    groups: dict[object, list[Bay]] = {}
    for bay in shop.bays:
        alike = bay.model_dump(exclude={"bay_id", "name", "places"})
        pinned = tuple(p.unit_id for p in shop.pinned if p.bay_id == bay.bay_id)
        pinned += tuple(d.unit_id for d in shop.done if d.bay_id == bay.bay_id)
        alone = bay.bay_id if pinned else ""
        groups.setdefault((repr(sorted(alike.items())), _shut(shop, grid, bay), alone), []).append(bay)
    everything = below(len(grid))
    yard = BayClass(YARD, (), len(shop.units) + 1, everything, None)
    return [yard, *(_class(shop, grid, bays) for bays in groups.values())]


def _class(shop: Shop, grid: TimeGrid, bays: list[Bay]) -> BayClass:
    bay, ids = bays[0], tuple(b.bay_id for b in bays)
    shut = _shut(shop, grid, bay)
    free = below(len(grid)) & ~shut.slots
    climate = f"{bay.outdoor} {bay.heated_to_c} {bay.rh_held_pct} {bay.steel_lag_h}"
    return BayClass("+".join(ids), ids, sum(b.places for b in bays), free, bay.air_space, climate, opens=shut.opens)


def _shut(shop: Shop, grid: TimeGrid, bay: Bay) -> _Shut:
    rows, now = merged(closed_spans(shop, Shut.BAY, bay.bay_id)), shop.site.plan_from
    opens = max((end for _, end in shut_slots(grid, (row for row in rows if row[0] <= now))), default=0)
    later = shut_slots(grid, (row for row in rows if row[0] > now), at_night=True)
    return _Shut(union(span(start, end) for start, end in later), opens)


def fits(bay: Bay, length_m: float, width_m: float, height_m: float, mass_kg: float) -> bool:
    """Whether a unit fits a bay; length and width may be turned."""
    long_side = max(length_m, width_m) <= max(bay.max_length_m, bay.max_width_m)
    short_side = min(length_m, width_m) <= min(bay.max_length_m, bay.max_width_m)
    return long_side and short_side and height_m <= bay.max_height_m and mass_kg <= bay.max_mass_kg
