"""The climate of each bay class and the curves and windows that rest on it, each worked out once."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime

import numpy as np

from scheduler.activities.alike import Alike
from scheduler.activities.curves import after_minutes, as_curve, closes_after_min, cured_after_min, within_minutes
from scheduler.activities.flags import mask_of
from scheduler.activities.masks import below
from scheduler.activities.network import BayClass, Curve, Mask
from scheduler.activities.soaking import bench_min_c, longest_soak_min, used_c
from scheduler.activities.time_grid import TimeGrid
from scheduler.activities.windows import Flags, SlotClimate, all_through, film_starts, unbroken
from scheduler.physics.curing import SheetTimes
from scheduler.physics.weather_window import hours_allowed
from scheduler.shop.forecast import bay_climate, hourly_weather
from scheduler.shop.methods import Method
from scheduler.shop.product_sheet import Product, ProductTime
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop
from scheduler.shop.weather_limits import method_limits

MINIMUM_CLOCKS: Mapping[str, Callable[[ProductTime], float]] = {
    "tack_free": lambda row: row.tack_free_h,
    "rain_safe": lambda row: row.rain_safe_h,
    "recoat_min": lambda row: row.recoat_min_h,
    "handle": lambda row: row.handle_h,
    "service": lambda row: row.service_h,
}


def sheet_of(shop: Shop, product_id: str, clock: Callable[[ProductTime], float]) -> SheetTimes:
    """Sheet times of one clock of a product; a time of zero becomes a second, so that it has a logarithm."""
    rows = shop.times_of[product_id]
    return SheetTimes(tuple(r.temp_c for r in rows), tuple(max(clock(r), 1 / 3600) for r in rows))


@dataclass
class Climates:
    """Curves and start windows by bay class; filled in as they are asked for."""

    shop: Shop
    grid: TimeGrid
    classes: list[BayClass]
    alike: Alike = field(default_factory=Alike)
    _at: dict[int, SlotClimate] = field(default_factory=dict)
    _curves: dict[tuple[str, str, str], Curve] = field(default_factory=dict)
    _starts: dict[tuple[object, ...], Mask] = field(default_factory=dict)
    _fixed: dict[tuple[str, object], Curve] = field(default_factory=dict)
    _bench: dict[str, float | None] = field(default_factory=dict)
    film_min: Mapping[str, float] = field(default_factory=dict)
    """Longest film step of each product, min: so long a recapped cartridge has lain outside the warmer."""

    def __post_init__(self) -> None:
        """Lay the hourly weather under every class."""
        weather = hourly_weather(self.shop)
        known: dict[str, SlotClimate] = {}
        for i, kind in enumerate(self.classes):
            if kind.climate not in known:
                bay = self.shop.bay_by_id[kind.bays[0]] if kind.bays else None
                known[kind.climate] = SlotClimate(self.grid, bay_climate(self.shop, weather, bay))
            self._at[i] = known[kind.climate]

    def at(self, bay_class: int) -> SlotClimate:
        """Climate of a class."""
        return self._at[bay_class]

    def cured(self, bay_class: int, product_id: str, clock: str) -> Curve:
        """First start once a minimum time of the sheet is up."""
        return self._curve(bay_class, product_id, clock, self._cured)

    def closes(self, bay_class: int, product_id: str) -> Curve:
        """Last start before the recoat maximum is up."""
        return self._curve(bay_class, product_id, "recoat_max", self._closes)

    def cured_in(self, classes: tuple[int, ...], product_id: str, clock: str) -> Mapping[int, Curve]:
        """:meth:`cured` for each class."""
        key = ("cured", classes, product_id, clock)
        return self.alike.once(key, lambda: {c: self.cured(c, product_id, clock) for c in classes})

    def closes_in(self, classes: tuple[int, ...], product_id: str) -> Mapping[int, Curve]:
        """:meth:`closes` for each class."""
        return self.alike.once(("closes", classes, product_id), lambda: {c: self.closes(c, product_id) for c in classes})

    def wait_in(self, classes: tuple[int, ...], minutes: float) -> Mapping[int, Curve]:
        """:meth:`wait` for each class."""
        return self.alike.once(("wait", classes, minutes), lambda: dict.fromkeys(classes, self.wait(minutes)))

    def within_in(self, classes: tuple[int, ...], minutes: float) -> Mapping[int, Curve]:
        """:meth:`within` for each class."""
        return self.alike.once(("within", classes, minutes), lambda: dict.fromkeys(classes, self.within(minutes)))

    def _curve(self, bay_class: int, product_id: str, clock: str, make: Callable[[int, str, str], Curve]) -> Curve:
        key = (self.classes[bay_class].climate, product_id, clock)
        if key not in self._curves:
            self._curves[key] = make(bay_class, product_id, clock)
        return self._curves[key]

    def _cured(self, bay_class: int, product_id: str, clock: str) -> Curve:
        sheet = sheet_of(self.shop, product_id, MINIMUM_CLOCKS[clock])
        minutes = cured_after_min(self.grid, self._at[bay_class].climate, sheet)
        return as_curve(np.where(np.isfinite(minutes), self.grid.first_from(minutes), len(self.grid)).astype(np.int64))

    def _closes(self, bay_class: int, product_id: str, _clock: str) -> Curve:
        sheet = sheet_of(self.shop, product_id, lambda row: row.recoat_max_h)
        return as_curve(self.grid.last_until(closes_after_min(self.grid, self._at[bay_class].climate, sheet)))

    def in_one_piece(self, slots: int, *, may_pause: bool) -> Mask:
        """Slots from which a step fits into working time; one that may pause only has to end before the horizon."""
        key = ("piece", slots, may_pause)
        if key not in self._starts:
            room = max(0, len(self.grid) - slots + 1)
            self._starts[key] = below(room) if may_pause else mask_of(unbroken(self.grid, slots))
        return self._starts[key]

    def weather_in(self, classes: tuple[int, ...], method: Method, slots: int, product: Product | None) -> Mapping[int, Mask]:
        """:meth:`weather` for each class."""
        key = ("weather", classes, method.step, slots, product.product_id if product else "")
        return self.alike.once(key, lambda: {c: self.weather(c, method, slots, product) for c in classes})

    def weather(self, bay_class: int, method: Method, slots: int, product: Product | None) -> Mask:
        """Slots at which the weather in a bay class allows a step."""
        key = (self.classes[bay_class].climate, method.step, slots, product.product_id if product else "")
        if key not in self._starts:
            self._starts[key] = mask_of(self._weather_flags(bay_class, method, slots, product))
        return self._starts[key]

    def _weather_flags(self, bay_class: int, method: Method, slots: int, product: Product | None) -> Flags:
        at = self._at[bay_class]
        flags = all_through(at.at_slots(hours_allowed(at.climate, method_limits(method))), slots)
        if product is None:
            return flags
        sheet = sheet_of(self.shop, product.product_id, MINIMUM_CLOCKS["rain_safe"])
        return flags & film_starts(at, slots, product, sheet, self._bench_of(product))

    def _bench_of(self, product: Product) -> float | None:
        if product.product_id not in self._bench:
            self._bench[product.product_id] = bench_min_c(self.shop, product)
        return self._bench[product.product_id]

    def load(self, product: Product) -> Curve:
        """Last slot at which cartridges can go into the warmer for each start slot; the slowest warmer counts.

        They come from the store, or colder from an earlier use.
        """
        return self._once(("load", product.product_id), lambda: self._load(product, min(self._store_c(), self._used_c(product))))

    def load_again(self, product: Product) -> Curve:
        """Last slot at which a cartridge can go back into the warmer straight from its use, for each start slot."""
        return self._once(("again", product.product_id), lambda: self._load(product, self._used_c(product)))

    def warms(self, product: Product) -> bool:
        """Whether there are warmers for a product."""
        return bool(self.shop.equipment_of(Kind.WARMER)) and product.spray_min_c is not None

    def _store_c(self) -> float:
        return self.shop.site.store_temp_c

    def _used_c(self, product: Product) -> float:
        """Mean temperature of a cartridge after the longest step outside the warmer, in the coldest air for spraying."""
        coldest_c = min(self._at[i].coldest_at_work_c for i, kind in enumerate(self.classes) if kind.bays)
        if math.isinf(coldest_c):
            return self._store_c()  # nobody works any more before the plan ends, and nothing is sprayed
        return used_c(self.shop, product, coldest_c, self.film_min.get(product.product_id, 0.0))

    def _load(self, product: Product, from_c: float) -> Curve:
        return tuple(self.grid.last_until(self.grid.start_min - longest_soak_min(self.shop, product, from_c)).tolist())

    def warm_since(self, product: Product, loaded_at: datetime) -> Curve:
        """As :meth:`load` for cartridges that lie in a warmer since before the plan: they keep their slots from its start on."""
        soak_min = longest_soak_min(self.shop, product, min(self._store_c(), self._used_c(product)))
        ready = int(self.grid.first_from(self.grid.minutes_at(loaded_at) + soak_min))
        return tuple(max(slot, 0) if start >= ready else slot for start, slot in enumerate(self.load(product)))

    def wait(self, minutes: float) -> Curve:
        """First start once a fixed time is up."""
        return self._once(("wait", minutes), lambda: after_minutes(self.grid, minutes))

    def within(self, minutes: float) -> Curve:
        """Last start before a fixed time is up."""
        return self._once(("within", minutes), lambda: within_minutes(self.grid, minutes))

    def _once(self, key: tuple[str, object], make: Callable[[], Curve]) -> Curve:
        if key not in self._fixed:
            self._fixed[key] = make()
        return self._fixed[key]
