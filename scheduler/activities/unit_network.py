"""The network of one unit: its activities, stays and lags, with what is done or pinned taken into account."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from scheduler.activities.climates import Climates
from scheduler.activities.history import History
from scheduler.activities.masks import below, span
from scheduler.activities.network import WINDOW_RULES, Activity, Curve, Demand, Lag, Mask, Path, Stay
from scheduler.activities.past import Past
from scheduler.activities.resources import COUNTED, air_demand, fits, in_service, lift_skill
from scheduler.activities.steps import NeededStep, Route
from scheduler.activities.unit_waits import Wait, waits_of
from scheduler.shop.fixed import Pinned
from scheduler.shop.methods import FILM_STEPS, Emits, Step
from scheduler.shop.product_sheet import Product, Supply
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit


@dataclass(frozen=True)
class UnitNetwork:
    """What one unit adds to the network; activity numbers count from ``first``."""

    activities: list[Activity]
    stays: list[Stay]
    lags: list[Lag]
    path: Path


@dataclass
class UnitBuilder:
    """Builds the network of one unit.

    Attributes
    ----------
    pool_at : dict of str to int
        Numbers of the pools by key.
    history : History
        Done steps of the unit.
    past : Past
        Done steps of all units.
    """

    shop: Shop
    climates: Climates
    pool_at: dict[str, int]
    route: Route
    unit: Unit
    history: History
    past: Past = field(default_factory=Past)
    _classes: dict[str, tuple[int, ...]] = field(default_factory=dict)
    _waits: tuple[Wait, ...] | None = None

    def classes_of(self, stage: str) -> tuple[int, ...]:
        """Bay classes in which a stage of this unit may be done."""
        if stage not in self._classes:
            self._classes[stage] = self._find_classes(stage) if stage else (0,)
        return self._classes[stage]

    def _find_classes(self, stage: str) -> tuple[int, ...]:
        here = {s.name for s in self.route.steps if s.stage == stage}
        fixed = {done.bay_id for name, done in self.history.done.items() if name in here and done.bay_id}
        classes, unit = self.climates.classes, self.unit
        key = ("classes", stage, unit.length_m, unit.width_m, unit.height_m, unit.mass_kg)
        allowed = self.climates.alike.once(key, lambda: self._allowed_in(stage))
        return tuple(c for c in allowed if fixed & set(classes[c].bays)) if fixed else allowed

    def _allowed_in(self, stage: str) -> tuple[int, ...]:
        classes = self.climates.classes
        return tuple(i for i, group in enumerate(classes) if group.bays and self._allowed(group.bays[0], stage))

    def _allowed(self, bay_id: str, stage: str) -> bool:
        bay, unit = self.shop.bay_by_id[bay_id], self.unit
        return stage in bay.stages and fits(bay, unit.length_m, unit.width_m, unit.height_m, unit.mass_kg)

    def todo(self) -> list[NeededStep]:
        """Steps that are left."""
        return [s for s in self.route.steps if s.name not in self.history.done]

    def slots_of(self, step: NeededStep) -> int:
        """Slots that a step takes, rounded up."""
        return max(1, math.ceil(step.minutes / self.shop.site.grid_min - 1e-9))

    def activity(self, step: NeededStep, stay: int) -> Activity:
        """Turn a step into an activity."""
        method, film = step.method, step.film
        slots = self.slots_of(step)
        product = self.shop.product_by_id[film.product_id] if film else None
        warm = product is not None and product.supply is Supply.CARTRIDGE
        classes = self.classes_of(step.stage)
        windows = {rule: self._window(rule, step, slots, classes) for rule in WINDOW_RULES}
        vapour = method.emits is Emits.VAPOUR or step.step in FILM_STEPS
        return Activity(
            key=f"{self.unit.unit_id}/{step.name}",
            unit=self.unit.unit_id,
            order=self.unit.order_id,
            name=step.name,
            stay=stay,
            slots=slots,
            windows=windows,
            starts=self.climates.alike.meet(windows),
            crew=self._crew(step),
            demands=tuple(self._demands(step)),
            respirator=method.respirator,
            emits_dust=method.emits is Emits.DUST,
            emits_vapour=vapour,
            clears=self._clears(step, classes) if vapour else {},
            product=film.product_id if film else None,
            volume_ml=film.volume_ml if film else 0.0,
            packs=film.packs if film else 0,
            load=self._load(step, product) if product is not None and warm else None,
        )

    def _clears(self, step: NeededStep, classes: tuple[int, ...]) -> Mapping[int, Curve]:
        """Slot from which the air is free of a step's vapour: solvent has flashed off, and a film is tack free."""
        dry_min, climates = step.method.dry_min, self.climates
        if step.film is None:
            return climates.wait_in(classes, dry_min)
        product_id = step.film.product_id
        tack_free = climates.cured_in(classes, product_id, "tack_free")
        if dry_min <= 0:
            return tack_free
        dry = climates.wait(dry_min)
        key = ("clears", classes, product_id, dry_min)
        return climates.alike.once(key, lambda: {c: tuple(map(max, curve, dry)) for c, curve in tack_free.items()})

    def _load(self, step: NeededStep, product: Product) -> Curve:
        """When a step's cartridges have to be loaded, unless they lie in a warmer already."""
        rows = (w for w in self.shop.warming if (w.unit_id, w.step) == (self.unit.unit_id, step.name))
        there = next(rows, None)
        return self.climates.load(product) if there is None else self.climates.warm_since(product, there.loaded_at)

    def _crew(self, step: NeededStep) -> tuple[tuple[str, int], ...]:
        needs = step.method.crew_needs()
        if (
            step.film
            and sum(n for _, n in needs) < 2
            and self.shop.product_by_id[step.film.product_id].supply is Supply.CARTRIDGE
        ):
            needs = (*needs, ("attendant", 1))
        if Kind.LIFT in step.method.tools:
            needs = (*needs, (lift_skill(self.shop, self.unit.mass_kg), 1))
        return tuple((skill, sum(n for s, n in needs if s == skill)) for skill in dict.fromkeys(s for s, _ in needs))

    def _demands(self, step: NeededStep) -> Iterator[Demand]:
        mean, peak = 0, 0
        for kind in COUNTED:
            if kind not in step.method.tools:
                continue
            change_min = max((e.change_min for e in self.shop.equipment_of(kind)), default=0.0) if kind is Kind.GUN else 0.0
            yield Demand(self.pool_at[kind.value], 1, math.ceil(change_min / self.shop.site.grid_min - 1e-9))
            tool = air_demand(self.shop, kind)
            mean, peak = mean + tool[0], peak + tool[1]
        if mean:
            yield Demand(self.pool_at["air mean"], mean)
        if peak:
            yield Demand(self.pool_at["air peak"], peak)

    def _window(self, rule: str, step: NeededStep, slots: int, classes: tuple[int, ...]) -> Mapping[int, Mask]:
        """Slots at which one rule lets a step start, by bay class."""
        climates, product = self.climates, self.shop.product_by_id[step.film.product_id] if step.film else None
        match rule:
            case "shift_hours":
                worked = climates.in_one_piece(slots, may_pause=step.method.may_pause and product is None)
                return climates.alike.everywhere(classes, worked & self._tools_in_service(step, slots))
            case "weather_window":
                return climates.weather_in(classes, step.method, slots, product)
            case "release":
                return climates.alike.everywhere(classes, self._released(step, slots))
            case "pinned_work" if self._pins(step):
                return {c: self._pinned(step, c) for c in classes}
            case "done_work" if self.past.binds or self.history.done:
                return self._after_all_history(step, classes)
        return climates.alike.everywhere(classes, below(len(climates.grid)))

    def _tools_in_service(self, step: NeededStep, slots: int) -> int:
        """Slots from which a step can keep each of its tools to its end."""
        tools = tuple(kind for kind in COUNTED if kind in step.method.tools)
        return self.climates.alike.once(("tools", tools, slots), lambda: self._tools_open(tools, slots))

    def _tools_open(self, tools: tuple[Kind, ...], slots: int) -> int:
        mask = below(len(self.climates.grid))
        for kind in tools:
            mask &= in_service(self.shop, self.climates.grid, kind, slots)
        return mask

    def _released(self, step: NeededStep, slots: int) -> int:
        grid, unit = self.climates.grid, self.unit
        mask = below(len(grid))
        if step.name == self.route.steps[0].name:
            mask &= ~below(int(grid.first_from(grid.minutes_at(unit.available_from))))
        if step.step is Step.DISPATCH and unit.must_leave_by is not None:
            last = int(grid.last_until(grid.minutes_at(unit.must_leave_by) - grid.grid_min))
            mask &= below(last + 2 - slots)
        return mask

    def _pins(self, step: NeededStep) -> list[Pinned]:
        return [pin for pin in self.shop.pinned if (pin.unit_id, pin.step) == (self.unit.unit_id, step.name)]

    def _pinned(self, step: NeededStep, bay_class: int) -> int:
        grid, mask = self.climates.grid, below(len(self.climates.grid))
        for pin in self._pins(step):
            mask &= self._pin(grid.minutes_at(pin.start_at), pin.bay_id, bay_class)
        return mask

    def _pin(self, minutes: float, bay_id: str | None, bay_class: int) -> int:
        """Return the one slot that starts at a pinned moment, none where nobody works then or the bay is another."""
        first, last = int(self.climates.grid.first_from(minutes)), int(self.climates.grid.last_until(minutes))
        in_bay = bay_id is None or bay_id in self.climates.classes[bay_class].bays
        return span(first, first + 1) if in_bay and first == last else 0

    def _after_all_history(self, step: NeededStep, classes: tuple[int, ...]) -> Mapping[int, Mask]:
        if self.history.done:
            return {c: self._after_history(step, c) for c in classes}
        key = ("after", classes, step.method.emits, bool(step.film))
        return self.climates.alike.once(key, lambda: {c: self._after_history(step, c) for c in classes})

    def _after_history(self, step: NeededStep, bay_class: int) -> int:
        """Slots that done work leaves open to a step: that of all units first, then that of its own unit."""
        past, space = self.history, self.climates.classes[bay_class].air_space or ""
        first = max([self.past.now, *map(past.end_slot, past.done)])
        if step.method.emits is Emits.DUST:
            first = max(first, self.past.clear.get(space, 0))
        elif step.film or step.method.emits is Emits.VAPOUR:
            first = max(first, self.past.settled.get(space, 0))
        mask = below(len(self.climates.grid)) & ~below(first)
        stage_of = {s.name: s.stage for s in self.route.steps}
        for wait in self.waits():
            if wait.then == step.name and wait.first in past.done:
                here = stage_of[wait.first] == step.stage
                mask &= past.open_after(wait, (bay_class,) if here else self.classes_of(stage_of[wait.first]))
        return mask

    def waits(self) -> tuple[Wait, ...]:
        """Every wait between two steps of the unit."""
        if self._waits is None:
            self._waits = tuple(waits_of(self.route, self.climates, self.classes_of))
        return self._waits
