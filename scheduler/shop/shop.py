"""The shop: every table of a folder, validated, with the look-ups that others ask for."""

from collections.abc import Callable, Iterable
from datetime import datetime
from functools import cached_property
from typing import TypeVar

from pydantic import BaseModel, ConfigDict

from scheduler.shop.calendar import Closure, Shift
from scheduler.shop.coating_system import Coat
from scheduler.shop.fixed import Done, Hold, Pinned, Rework, Warming
from scheduler.shop.forecast_rows import TypicalHour, WeatherHour
from scheduler.shop.methods import Method, Step
from scheduler.shop.product_sheet import Product, ProductTime
from scheduler.shop.resources import Bay, Equipment, Kind, Person
from scheduler.shop.rework_numbers import numbered
from scheduler.shop.site import Site
from scheduler.shop.stock import Lot, Opened
from scheduler.shop.unit import Order, Surface, Unit

AnyRow = TypeVar("AnyRow")


class Shop(BaseModel):
    """A validated shop folder. Datetimes are aware: times typed without an offset stand in the site's zone."""

    model_config = ConfigDict(frozen=True, extra="forbid", ignored_types=(cached_property,))

    site: Site
    orders: tuple[Order, ...]
    units: tuple[Unit, ...]
    surfaces: tuple[Surface, ...]
    coating_systems: tuple[Coat, ...]
    products: tuple[Product, ...]
    product_times: tuple[ProductTime, ...]
    lots: tuple[Lot, ...]
    opened: tuple[Opened, ...] = ()
    bays: tuple[Bay, ...]
    crew: tuple[Person, ...]
    equipment: tuple[Equipment, ...]
    methods: tuple[Method, ...]
    shifts: tuple[Shift, ...]
    closures: tuple[Closure, ...] = ()
    weather: tuple[WeatherHour, ...] = ()
    typical_year: tuple[TypicalHour, ...] = ()
    pinned: tuple[Pinned, ...] = ()
    done: tuple[Done, ...] = ()
    warming: tuple[Warming, ...] = ()
    rework: tuple[Rework, ...] = ()
    holds: tuple[Hold, ...] = ()

    @cached_property
    def order_by_id(self) -> dict[str, Order]:
        """Orders by id."""
        return {row.order_id: row for row in self.orders}

    @cached_property
    def unit_by_id(self) -> dict[str, Unit]:
        """Units by id."""
        return {row.unit_id: row for row in self.units}

    @cached_property
    def product_by_id(self) -> dict[str, Product]:
        """Products by id."""
        return {row.product_id: row for row in self.products}

    @cached_property
    def bay_by_id(self) -> dict[str, Bay]:
        """Bays by id."""
        return {row.bay_id: row for row in self.bays}

    @cached_property
    def person_by_id(self) -> dict[str, Person]:
        """People by id."""
        return {row.person_id: row for row in self.crew}

    @cached_property
    def method_of(self) -> dict[Step, Method]:
        """Methods by step."""
        return {row.step: row for row in self.methods}

    @cached_property
    def surfaces_of(self) -> dict[str, tuple[Surface, ...]]:
        """Surfaces by unit id."""
        return _grouped(self.unit_by_id, self.surfaces, lambda row: row.unit_id)

    @cached_property
    def coats_of(self) -> dict[str, tuple[Coat, ...]]:
        """Coats by system id, in order of application."""
        rows = sorted(self.coating_systems, key=lambda row: row.coat)
        return _grouped((row.system_id for row in self.coating_systems), rows, lambda row: row.system_id)

    @cached_property
    def times_of(self) -> dict[str, tuple[ProductTime, ...]]:
        """Sheet rows by product id, coldest first."""
        rows = sorted(self.product_times, key=lambda row: row.temp_c)
        return _grouped(self.product_by_id, rows, lambda row: row.product_id)

    @cached_property
    def rework_of(self) -> dict[str, tuple[Rework, ...]]:
        """Rework by unit id, all with their numbers and in their order."""
        rows = _grouped(self.unit_by_id, self.rework, lambda row: row.unit_id)
        return {unit_id: numbered(group) for unit_id, group in rows.items()}

    @cached_property
    def units_of(self) -> dict[str, tuple[Unit, ...]]:
        """Units by order id."""
        return _grouped(self.order_by_id, self.units, lambda row: row.order_id)

    def equipment_of(self, kind: Kind) -> tuple[Equipment, ...]:
        """Rows of equipment of a kind."""
        return tuple(row for row in self.equipment if row.kind is kind)

    def with_tables(self, **tables: object) -> "Shop":
        """Return the shop with other tables; made anew, because a copy would keep the look-ups of the old ones."""
        return Shop.model_validate({name: getattr(self, name) for name in Shop.model_fields} | tables)

    def local(self, moment: datetime) -> datetime:
        """Return the moment in the site's zone; a naive one is taken to stand in it already."""
        return moment.replace(tzinfo=self.site.tz) if moment.tzinfo is None else moment.astimezone(self.site.tz)


def _grouped(ids: Iterable[str], rows: Iterable[AnyRow], id_of: Callable[[AnyRow], str]) -> dict[str, tuple[AnyRow, ...]]:
    """Rows by id in their order; an id without rows has an empty group, a row of another id is left out."""
    groups: dict[str, list[AnyRow]] = {i: [] for i in ids}
    for row in rows:
        if id_of(row) in groups:
            groups[id_of(row)].append(row)
    return {i: tuple(group) for i, group in groups.items()}
