"""From a shop to the whole activity network."""

import math
from collections import defaultdict
from collections.abc import Container, Iterable
from dataclasses import dataclass

from scheduler.activities.assemble import unit_network
from scheduler.activities.bay_classes import bay_classes
from scheduler.activities.climates import Climates
from scheduler.activities.goals import due_of
from scheduler.activities.history import History
from scheduler.activities.network import Activity, Lag, Network, Path, Pool, Stay
from scheduler.activities.pack_sheets import pack_sheets
from scheduler.activities.past import past_of
from scheduler.activities.resources import air_pools, crew_of, rents_of, tool_pools
from scheduler.activities.routing import route_of
from scheduler.activities.steps import Route
from scheduler.activities.stock import sources_of
from scheduler.activities.time_grid import TimeGrid
from scheduler.activities.under_way import UnderWay, busy_bays, busy_pools, busy_workers, under_way
from scheduler.activities.unit_network import UnitBuilder
from scheduler.shop.fixed import Done
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit


@dataclass(frozen=True)
class Built:
    """A network with the way back to the shop: the grid and the routes behind the integers."""

    network: Network
    grid: TimeGrid
    routes: dict[str, Route]
    climates: Climates
    begun: tuple[UnderWay, ...] = ()


def build_network(shop: Shop, only: Container[str] | None = None) -> Built:
    """Build the activity network of a validated shop.

    Parameters
    ----------
    shop : Shop
    only : container of str or None
        Units to look at by themselves, in the shop as it stands for all; every unit if None.
    """
    crew = crew_of(shop)
    grid = crew.grid
    routes = {u.unit_id: route_of(shop, u.unit_id) for u in shop.units}
    begun = under_way(shop, grid, routes)
    workers = busy_workers(shop, grid, crew.workers, routes, begun)
    climates = Climates(
        shop, grid, busy_bays(bay_classes(shop, grid), begun), film_min=_longest_films(routes, shop.site.grid_min)
    )
    pools = busy_pools(shop, [*tool_pools(shop, grid), *air_pools(shop, grid), *_presence(shop)], begun)
    parts = _Parts(shop, climates, pools, routes)
    parts.add_units(shop.units if only is None else [unit for unit in shop.units if unit.unit_id in only])
    network = Network(
        slots=len(grid),
        day=_days(grid),
        activities=tuple(parts.activities),
        paths=tuple(parts.paths),
        stays=tuple(parts.stays),
        lags=tuple(parts.lags),
        classes=tuple(climates.classes),
        workers=workers,
        pools=tuple(pools),
        dues=tuple(due_of(shop, grid, o, parts.last_of(o.order_id)) for o in shop.orders),
        sources=sources_of(shop, grid),
        sheets=pack_sheets(climates),
        overtime=crew.overtime,
        overtime_cents_a_slot=round(shop.site.overtime_cost_per_h * 100 * shop.site.grid_min / 60),
        rents=rents_of(shop, workers, pools),
        warmer=next(i for i, p in enumerate(pools) if p.key == "warmer"),
    )
    return Built(network, grid, routes, climates, begun)


def _days(grid: TimeGrid) -> tuple[int, ...]:
    return tuple((grid.day - grid.day[0]).tolist()) if len(grid) else ()


def _longest_films(routes: dict[str, Route], grid_min: int) -> dict[str, float]:
    """Longest film step of each product as it is planned, in whole slots, min."""
    longest: dict[str, float] = {}
    for route in routes.values():
        for step in route.steps:
            if step.film is not None:
                minutes = max(1, math.ceil(step.minutes / grid_min - 1e-9)) * grid_min
                longest[step.film.product_id] = max(longest.get(step.film.product_id, 0.0), minutes)
    return longest


def _presence(shop: Shop) -> list[Pool]:
    yard = Pool("yard", "haulage", shop.site.yard_places)
    away = [Pool(f"away {o.order_id}", "units_away", o.most_units_away) for o in shop.orders if o.most_units_away is not None]
    return [yard, *away]


class _Parts:
    """The network's lists while units are added one after the other."""

    def __init__(self, shop: Shop, climates: Climates, pools: list[Pool], routes: dict[str, Route]) -> None:
        self.shop, self.climates, self.routes = shop, climates, routes
        self.pool_at = {pool.key: i for i, pool in enumerate(pools)}
        self.activities: list[Activity] = []
        self.stays: list[Stay] = []
        self.lags: list[Lag] = []
        self.paths: list[Path] = []

    def add_units(self, units: Iterable[Unit]) -> None:
        """Add every one of the units that has work left."""
        past = past_of(self.shop, self.climates, self.routes)
        done: dict[str, dict[str, Done]] = defaultdict(dict)
        for row in self.shop.done:
            done[row.unit_id][row.step] = row
        for unit in units:
            history = History(self.shop, self.climates, done[unit.unit_id])
            builder = UnitBuilder(self.shop, self.climates, self.pool_at, self.routes[unit.unit_id], unit, history, past)
            present = [self.pool_at["yard"], self.pool_at.get(f"away {unit.order_id}", -1)]
            part = unit_network(builder, len(self.activities), len(self.stays), tuple(p for p in present if p >= 0))
            if part is not None:
                self.activities += part.activities
                self.stays += part.stays
                self.lags += part.lags
                self.paths.append(part.path)

    def last_of(self, order_id: str) -> tuple[int, ...]:
        """Last activities of the units of an order."""
        return tuple(p.last for p in self.paths if p.order == order_id)
