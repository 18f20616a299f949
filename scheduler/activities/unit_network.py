"""The network of one unit: its activities, stays and lags, with what is done or pinned taken into account."""

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from scheduler.activities.climates import Climates
from scheduler.activities.history import History
from scheduler.activities.masks import below, span
from scheduler.activities.network import WINDOW_RULES, Activity, Curve, Demand, Lag, Path, Stay, meet
from scheduler.activities.resources import COUNTED, air_demand, fits, lift_skill
from scheduler.activities.routing import NeededStep, Route
from scheduler.shop.methods import FILM_STEPS, Emits, Step
from scheduler.shop.product_sheet import Supply
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit


@dataclass(frozen=True)
class Waits:
    """A wait between two steps of a unit by name, before it is known which of them are still to do."""

    first: str
    then: str
    rule: str
    earliest: dict[int, Curve]
    latest: dict[int, Curve]
    minutes: float | None = None
    product_id: str | None = None


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
    """

    shop: Shop
    climates: Climates
    pool_at: dict[str, int]
    route: Route
    unit: Unit
    history: History
    _classes: dict[str, tuple[int, ...]] = field(default_factory=dict)

    def classes_of(self, stage: str) -> tuple[int, ...]:
        """Bay classes in which a stage of this unit may be done."""
        if stage not in self._classes:
            self._classes[stage] = self._find_classes(stage) if stage else (0,)
        return self._classes[stage]

    def _find_classes(self, stage: str) -> tuple[int, ...]:
        fixed = {d.bay_id for d in self.shop.done if d.unit_id == self.unit.unit_id and d.step == f"move_in-{stage}" and d.bay_id}
        found = [
            i
            for i, group in enumerate(self.climates.classes)
            if group.bays and self._allowed(group.bays[0], stage) and (not fixed or fixed & set(group.bays))
        ]
        return tuple(found)

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
        windows = {rule: {c: self._window(rule, step, slots, c) for c in classes} for rule in WINDOW_RULES}
        vapour = method.emits is Emits.VAPOUR or step.step in FILM_STEPS
        return Activity(
            key=f"{self.unit.unit_id}/{step.name}",
            unit=self.unit.unit_id,
            order=self.unit.order_id,
            name=step.name,
            stay=stay,
            slots=slots,
            windows=windows,
            starts=meet(windows),
            crew=self._crew(step),
            demands=tuple(self._demands(step, warm=warm)),
            respirator=method.respirator,
            emits_dust=method.emits is Emits.DUST,
            emits_vapour=vapour,
            clears={c: self._clears(step, c) for c in classes} if vapour else {},
            product=film.product_id if film else None,
            volume_ml=film.volume_ml if film else 0.0,
            packs=film.packs if film else 0,
            load=self.climates.load(product) if product is not None and warm else None,
        )

    def _clears(self, step: NeededStep, bay_class: int) -> Curve:
        if step.film:
            return self.climates.cured(bay_class, step.film.product_id, "tack_free")
        return self.climates.wait(step.method.dry_min)

    def _crew(self, step: NeededStep) -> tuple[tuple[str, int], ...]:
        needs = step.method.crew_needs()
        if (
            step.film
            and sum(n for _, n in needs) < 2
            and self.shop.product_by_id[step.film.product_id].supply is Supply.CARTRIDGE
        ):
            needs = (*needs, ("attendant", 1))
        return (*needs, (lift_skill(self.shop, self.unit.mass_kg), 1)) if Kind.LIFT in step.method.tools else needs

    def _demands(self, step: NeededStep, *, warm: bool) -> Iterator[Demand]:
        mean, peak = 0, 0
        for kind in COUNTED:
            if kind not in step.method.tools or (kind is Kind.GUN and step.film and not warm):
                continue
            change_min = max((e.change_min for e in self.shop.equipment_of(kind)), default=0.0) if kind is Kind.GUN else 0.0
            yield Demand(self.pool_at[kind.value], 1, math.ceil(change_min / self.shop.site.grid_min - 1e-9))
            tool = air_demand(self.shop, kind)
            mean, peak = mean + tool[0], peak + tool[1]
        if mean:
            yield Demand(self.pool_at["air mean"], mean)
        if peak:
            yield Demand(self.pool_at["air peak"], peak)

    def _window(self, rule: str, step: NeededStep, slots: int, bay_class: int) -> int:
        """Slots at which one rule lets a step start in a bay class."""
        product = self.shop.product_by_id[step.film.product_id] if step.film else None
        match rule:
            case "shift_hours":
                return self.climates.in_one_piece(slots, may_pause=step.method.may_pause and product is None)
            case "weather_window":
                return self.climates.weather(bay_class, step.method, slots, product)
            case "release":
                return self._released(step, slots)
            case "pinned_work":
                return self._pinned(step, bay_class)
            case "done_work":
                return self._after_history(step, bay_class)
        return below(len(self.climates.grid))

    def _released(self, step: NeededStep, slots: int) -> int:
        grid, unit = self.climates.grid, self.unit
        mask = below(len(grid))
        if step.name == self.route.steps[0].name:
            mask &= ~below(int(grid.first_from(grid.minutes_at(unit.available_from))))
        if step.step is Step.DISPATCH and unit.must_leave_by is not None:
            last = int(grid.last_until(grid.minutes_at(unit.must_leave_by) - grid.grid_min))
            mask &= below(last + 2 - slots)
        return mask

    def _pinned(self, step: NeededStep, bay_class: int) -> int:
        grid, mask = self.climates.grid, below(len(self.climates.grid))
        for pin in self.shop.pinned:
            if (pin.unit_id, pin.step) == (self.unit.unit_id, step.name):
                mask &= self._pin(int(grid.first_from(grid.minutes_at(pin.start_at))), pin.bay_id, bay_class)
        return mask

    def _pin(self, slot: int, bay_id: str | None, bay_class: int) -> int:
        in_bay = bay_id is None or bay_id in self.climates.classes[bay_class].bays
        return span(slot, slot + 1) if in_bay else 0

    def _after_history(self, step: NeededStep, bay_class: int) -> int:
        """Slots that the done steps of the unit leave open to a step."""
        mask, past = below(len(self.climates.grid)), self.history
        if not past.done:
            return mask
        for name in past.done:
            mask &= ~below(past.end_slot(name))
        for wait in self.waits():
            if wait.then != step.name or wait.first not in past.done:
                continue
            for cls, curve in wait.earliest.items():
                if cls in (bay_class, 0) or bay_class == 0:
                    ready = (
                        past.ready(wait.first, curve) if wait.minutes is None else past.ready_after_min(wait.first, wait.minutes)
                    )
                    mask &= ~below(ready)
            if wait.latest:
                until = (
                    past.recoat_until(wait.first, bay_class, wait.product_id)
                    if wait.product_id
                    else past.until_min(wait.first, wait.minutes or 0.0)
                )
                mask &= below(until + 1)
        return mask

    def waits(self) -> Iterator[Waits]:
        """Every wait between two steps of the unit."""
        steps = self.route.steps
        for step, following in itertools.pairwise(steps):
            if step.method.dry_min > 0:
                minutes = step.method.dry_min
                curve = self.climates.wait(minutes)
                yield Waits(
                    step.name, following.name, "flash_off", dict.fromkeys(self.classes_of(step.stage), curve), {}, minutes
                )
        yield from self._hold()
        yield from self._films()

    def _hold(self) -> Iterator[Waits]:
        films = [s for s in self.route.steps if s.film]
        for step in self.route.steps:
            if step.step in (Step.ABRADE, Step.CUT_OUT, Step.WIPE) and step.method.hold_h is not None and films:
                minutes = step.method.hold_h * 60
                curve = self.climates.within(minutes)
                yield Waits(step.name, films[0].name, "hold_time", {}, dict.fromkeys(self.classes_of(step.stage), curve), minutes)

    def _films(self) -> Iterator[Waits]:
        steps = [s for s in self.route.steps if s.film]
        for a, b in self.route.films.pairs:
            product = self.route.films.films[a].product_id
            classes = self.classes_of(steps[a].stage)
            earliest = {c: self.climates.cured(c, product, "recoat_min") for c in classes}
            latest = {c: self.climates.closes(c, product) for c in classes}
            yield Waits(steps[a].name, steps[b].name, "recoat_window", earliest, latest, None, product)
        for i in self.route.films.lasts:
            yield from self._cure(steps[i])

    def _cure(self, film_step: NeededStep) -> Iterator[Waits]:
        film = film_step.film
        if film is None:
            return
        classes = self.classes_of(film_step.stage)
        targets = [s for s in self.route.steps if s.name == f"move_out-{film_step.stage}"] or [self.route.steps[-1]]
        handle = {c: self.climates.cured(c, film.product_id, "handle") for c in classes}
        yield Waits(film_step.name, targets[0].name, "dry_to_handle", handle, {})
        service = {c: self.climates.cured(c, film.product_id, "service") for c in classes}
        yield Waits(film_step.name, self.route.steps[-1].name, "return_to_service", service, {})
