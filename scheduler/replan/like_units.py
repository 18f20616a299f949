"""A new unit like one that the shop knows: the same surfaces, size and mass, with nothing done and nothing pinned."""

from scheduler.activities.assemble import unit_network
from scheduler.activities.build import Built
from scheduler.activities.history import History
from scheduler.activities.past import past_of
from scheduler.activities.unit_network import UnitBuilder
from scheduler.replan.extend import UnitPart
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit


def like_unit(shop: Shop, built: Built, unit_id: str) -> UnitPart:
    """Build the part of a network that another unit of a kind would be.

    Parameters
    ----------
    shop : Shop
    built : Built
    unit_id : str
        A unit of the shop.
    """
    pool_at = {pool.key: n for n, pool in enumerate(built.network.pools)}
    fresh = {"unit_id": "new", "available_from": shop.site.plan_from, "must_leave_by": None}
    unit = shop.unit_by_id[unit_id].model_copy(update=fresh)
    past = past_of(shop, built.climates, built.routes)
    history = History(shop, built.climates, {})
    builder = UnitBuilder(shop, built.climates, pool_at, built.routes[unit_id], unit, history, past)
    part = unit_network(builder, 0, 0, ())
    if part is None:
        msg = f"{unit_id} needs no work"
        raise ValueError(msg)
    return UnitPart(tuple(part.activities), tuple(part.stays), tuple(part.lags), part.path)


def kinds_of(shop: Shop) -> dict[str, tuple[str, ...]]:
    """Units that are alike in everything that matters to their work, by the first of them."""
    found: dict[object, list[str]] = {}
    for unit in shop.units:
        surfaces = tuple(sorted(repr(s.model_copy(update={"unit_id": ""})) for s in shop.surfaces_of[unit.unit_id]))
        found.setdefault((_size(unit), surfaces), []).append(unit.unit_id)
    return {units[0]: tuple(units) for units in found.values()}


def _size(unit: Unit) -> tuple[float, ...]:
    return unit.length_m, unit.width_m, unit.height_m, unit.mass_kg
