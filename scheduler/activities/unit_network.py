"""The network of one unit: its activities, stays and lags, with what is done or pinned taken into account."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from scheduler.activities.bay_classes import fits
from scheduler.activities.climates import Climates
from scheduler.activities.history import History
from scheduler.activities.masks import below, span
from scheduler.activities.network import Activity, Curve, Lag, Mask, Path, Stay
from scheduler.activities.past import Past
from scheduler.activities.step_kinds import StepKinds
from scheduler.activities.steps import NeededStep, Route
from scheduler.activities.unit_waits import Wait, waits_of
from scheduler.shop.fixed import Pinned
from scheduler.shop.methods import Emits, Step
from scheduler.shop.product_sheet import Product
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
    kinds: StepKinds = field(init=False)
    _classes: dict[str, tuple[int, ...]] = field(default_factory=dict)
    _waits: tuple[Wait, ...] | None = None

    def __post_init__(self) -> None:
        self.kinds = StepKinds(self.shop, self.climates, self.pool_at)

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
        return bay.takes(stage) and fits(bay, unit.length_m, unit.width_m, unit.height_m, unit.mass_kg)

    def todo(self) -> list[NeededStep]:
        """Steps that are left."""
        return [s for s in self.route.steps if s.name not in self.history.done]

    def slots_of(self, step: NeededStep) -> int:
        """Slots that a step takes, rounded up."""
        return max(1, math.ceil(step.minutes / self.shop.site.grid_min - 1e-9))

    def activity(self, step: NeededStep, stay: int) -> Activity:
        """Turn a step into an activity."""
        film, slots, classes = step.film, self.slots_of(step), self.classes_of(step.stage)
        kind = self.kinds.of(step, slots, classes, self.unit.mass_kg)
        own = self._own_windows(step, classes, slots)
        windows = {**kind.windows, **own} if own else kind.windows
        return Activity(
            key=f"{self.unit.unit_id}/{step.name}",
            unit=self.unit.unit_id,
            order=self.unit.order_id,
            name=step.name,
            stay=stay,
            slots=slots,
            windows=windows,
            starts=self.climates.alike.meet(windows) if own else kind.starts,
            crew=kind.crew,
            demands=kind.demands,
            respirator=kind.respirator,
            emits_dust=kind.emits_dust,
            emits_vapour=kind.emits_vapour,
            clears=kind.clears,
            product=film.product_id if film else None,
            volume_ml=film.volume_ml if film else 0.0,
            packs=film.packs if film else 0,
            load=kind.load if kind.product is None or kind.load is None else self._load(step, kind.product),
        )

    def _load(self, step: NeededStep, product: Product) -> Curve:
        """When a step's cartridges have to be loaded, unless they lie in a warmer already."""
        rows = (w for w in self.shop.warming if (w.unit_id, w.step) == (self.unit.unit_id, step.name))
        there = next(rows, None)
        return self.climates.load(product) if there is None else self.climates.warm_since(product, there.loaded_at)

    def _own_windows(self, step: NeededStep, classes: tuple[int, ...], slots: int) -> dict[str, Mapping[int, Mask]]:
        """Windows of a step that hang on its unit: when it comes and leaves, what is pinned, what has happened."""
        own: dict[str, Mapping[int, Mask]] = {}
        leaves = step.step is Step.DISPATCH and self.unit.must_leave_by is not None
        if leaves or step.name == self.route.steps[0].name:
            own["release"] = self.climates.alike.everywhere(classes, self._released(step, slots))
        if self.shop.pinned and self._pins(step):
            own["pinned_work"] = {c: self._pinned(step, c) for c in classes}
        if self.past.binds or self.history.done:
            own["done_work"] = self._after_all_history(step, classes)
        return own

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
                ready = past.open_after(wait, (bay_class,) if here else self.classes_of(stage_of[wait.first]))
                mask &= ready | self._wet_on_wet(step, wait)
        return mask

    def _wet_on_wet(self, step: NeededStep, wait: Wait) -> Mask:
        """Slots at which the rest of a film takes up its edge while that is wet, before what else it would wait for."""
        edge_min = self.shop.product_by_id[step.film.product_id].wet_edge_min if step.film else None
        if edge_min is None or step.rest_of != wait.first or wait.rule not in {"recoat_window", "flash_off"}:
            return 0
        return below(self.history.until_min(wait.first, edge_min) + 1)

    def waits(self) -> tuple[Wait, ...]:
        """Every wait between two steps of the unit: the same for all with the same steps and products in the same bays."""
        if self._waits is None:
            films = self.route.films
            steps = tuple((step.name, step.rest_of, step.stage, self.classes_of(step.stage)) for step in self.route.steps)
            products = tuple(film.product_id for film in films.films)
            key = ("waits", steps, products, films.pairs, films.lasts, films.renewed)
            self._waits = self.climates.alike.once(key, lambda: tuple(waits_of(self.route, self.climates, self.classes_of)))
        return self._waits
