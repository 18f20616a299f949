"""Coats for which it is too late: the surface is wiped or abraded again where that opens a way."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from scheduler.activities.assemble import unit_network
from scheduler.activities.bay_classes import bay_classes
from scheduler.activities.climates import Climates
from scheduler.activities.history import History
from scheduler.activities.network import Activity
from scheduler.activities.past import Past, past_of
from scheduler.activities.resources import air_pools, crew_of, tool_pools
from scheduler.activities.routing import route_of
from scheduler.activities.steps import Route
from scheduler.activities.unit_network import UnitBuilder, UnitNetwork
from scheduler.record.made_good import goes_on_after
from scheduler.shop.fixed import Done, Rework, ReworkKind
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit

MOST: Final = 3
"""Rows that are added to a unit at the most."""


@dataclass
class _Looking:
    """What is needed to see whether a unit can still be finished, worked out once for all units."""

    shop: Shop
    climates: Climates = field(init=False)
    pool_at: Mapping[str, int] = field(init=False)
    past: Past = field(init=False)

    def __post_init__(self) -> None:
        grid = crew_of(self.shop).grid
        self.climates = Climates(self.shop, grid, bay_classes(self.shop, grid))
        pools = [*tool_pools(self.shop, grid), *air_pools(self.shop, grid)]
        self.pool_at = {pool.key: i for i, pool in enumerate(pools)}
        routes = {unit.unit_id: route_of(self.shop, unit.unit_id) for unit in self.shop.units}
        self.climates.film_min = {
            step.film.product_id: 0.0 for route in routes.values() for step in route.steps if step.film is not None
        }
        for route in routes.values():
            for step in route.steps:
                if step.film is not None:
                    longest = max(self.climates.film_min[step.film.product_id], step.minutes)
                    self.climates.film_min = {**self.climates.film_min, step.film.product_id: longest}
        self.past = past_of(self.shop, self.climates, routes)

    def way(self, unit: Unit, done: dict[str, Done], rework: tuple[Rework, ...]) -> tuple[Route, str | None]:
        """Route of a unit with further rework, and the first step for which no start is left; None if there is a way."""
        shop = self.shop.with_tables(rework=(*self.shop.rework, *rework))
        route = route_of(shop, unit.unit_id)
        builder = UnitBuilder(shop, self.climates, dict(self.pool_at), route, unit, History(shop, self.climates, done), self.past)
        part = unit_network(builder, 0, 0, ())
        return route, _stuck(part) if part is not None else None


def _stuck(part: UnitNetwork) -> str | None:
    """Walk through the steps, each as early as windows and waits let it, as if all people and tools were free."""
    end, starts = 0, list[int]()
    for i, activity in enumerate(part.activities):
        first = end
        for lag in part.lags:
            if lag.then == i and lag.earliest:
                first = max(
                    first, min(curve[starts[lag.first] + part.activities[lag.first].slots] for curve in lag.earliest.values())
                )
        mask = 0
        for slots in activity.starts.values():
            mask |= slots
        first = max(first, _warm_from(activity))
        mask >>= first
        if not mask:
            return activity.name
        starts.append(first + (mask & -mask).bit_length() - 1)
        end = starts[-1] + activity.slots
    return None


def _warm_from(activity: Activity) -> int:
    """First start for which there is time to warm the cartridges."""
    if activity.load is None:
        return 0
    return next((start for start, loaded in enumerate(activity.load) if loaded >= 0), len(activity.load))


def missed_windows(shop: Shop) -> tuple[Rework, ...]:
    """Rework of units that are begun and cannot go on: none, or the least of it that opens a way."""
    begun = {row.unit_id for row in shop.done}
    if not begun:
        return ()
    looking, found = _Looking(shop), list[Rework]()
    for unit in shop.units:
        done = {row.step: row for row in shop.done if row.unit_id == unit.unit_id}
        if unit.unit_id in begun and Step.DISPATCH.value not in done:
            found += _for_unit(looking, unit, done)
    return tuple(found)


def _for_unit(looking: _Looking, unit: Unit, done: dict[str, Done]) -> list[Rework]:
    """Rows until there is a way: for the coat that is too late, and for a later one that comes too late behind it."""
    rows = list[Rework]()
    route, stuck = looking.way(unit, done, ())
    while stuck is not None:
        row = _opens(looking, unit, done, rows, _after(route, done, stuck), stuck)
        if row is None or len(rows) == MOST:
            return []
        rows.append(row)
        route, stuck = looking.way(unit, done, tuple(rows))
    return rows


def _opens(looking: _Looking, unit: Unit, done: dict[str, Done], rows: list[Rework], after: str, stuck: str) -> Rework | None:
    """The least that opens the way to the end, else the way beyond the step that is stuck."""
    beyond = None
    for kind in (ReworkKind.WIPE, ReworkKind.ABRADE):
        row = Rework(unit_id=unit.unit_id, after=after, kind=kind, reason=f"too late for {stuck}")
        route, still = looking.way(unit, done, (*rows, row))
        names = [step.name for step in route.steps]
        if still is None:
            return row
        if beyond is None and names.index(still) > names.index(stuck):
            beyond = row
    return beyond


def _after(route: Route, done: dict[str, Done], stuck: str) -> str:
    """Step after which the surface is prepared again: the last one that is done, or the last before the coat that is too late.

    A unit on its way from bay to bay is prepared again in the next one.
    """
    names = [step.name for step in route.steps]
    last, film = max(names.index(name) for name in done if name in names), names.index(stuck)
    if any(step.film for step in route.steps[last + 1 : film]):
        return names[film - 1]
    return goes_on_after(route.steps, names[last])
