"""What steps of one kind have in common whatever their unit, worked out once: people, tools, air, calendar and weather."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from scheduler.activities.climates import Climates
from scheduler.activities.masks import below
from scheduler.activities.network import WINDOW_RULES, Curve, Demand, Mask
from scheduler.activities.resources import COUNTED, air_demand, in_service, lift_skill
from scheduler.activities.steps import NeededStep
from scheduler.shop.methods import FILM_STEPS, Emits
from scheduler.shop.product_sheet import Product, Supply
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop

Windows = Mapping[str, Mapping[int, Mask]]


@dataclass(frozen=True, slots=True)
class StepKind:
    """What is the same for steps by one method, of one length and product, on units of one mass.

    Attributes
    ----------
    windows : Mapping of str to Mapping of int to Mask
        As of an activity; release, pins and history of the unit are not in it.
    starts : Mapping of int to Mask
        What these windows leave.
    load : Curve or None
        When cartridges that do not lie in a warmer yet have to be loaded.
    """

    windows: Windows
    starts: Mapping[int, Mask]
    crew: tuple[tuple[str, int], ...]
    demands: tuple[Demand, ...]
    respirator: bool
    emits_dust: bool
    emits_vapour: bool
    clears: Mapping[int, Curve]
    product: Product | None
    load: Curve | None


@dataclass(frozen=True, slots=True)
class StepKinds:
    """Kinds of steps of a shop.

    Attributes
    ----------
    pool_at : Mapping of str to int
        Numbers of the pools by key.
    """

    shop: Shop
    climates: Climates
    pool_at: Mapping[str, int]

    def of(self, step: NeededStep, slots: int, classes: tuple[int, ...], mass_kg: float) -> StepKind:
        """Kind of a step that takes so many slots in one of some classes of bays."""
        product_id = step.film.product_id if step.film else ""
        key = ("kind", step.method.step, step.step, slots, product_id, classes, mass_kg)
        return self.climates.alike.once(key, lambda: self._make(step, slots, classes, mass_kg))

    def _make(self, step: NeededStep, slots: int, classes: tuple[int, ...], mass_kg: float) -> StepKind:
        method = step.method
        product = self.shop.product_by_id[step.film.product_id] if step.film else None
        warm = product is not None and product.supply is Supply.CARTRIDGE
        windows = {rule: self._window(rule, step, slots, classes) for rule in WINDOW_RULES}
        vapour = method.emits is Emits.VAPOUR or step.step in FILM_STEPS
        return StepKind(
            windows=windows,
            starts=self.climates.alike.meet(windows),
            crew=self._crew(step, mass_kg, warm=warm),
            demands=tuple(self._demands(step)),
            respirator=method.respirator,
            emits_dust=method.emits is Emits.DUST,
            emits_vapour=vapour,
            clears=self._clears(step, classes) if vapour else {},
            product=product,
            load=self.climates.load(product) if product is not None and warm else None,
        )

    def _window(self, rule: str, step: NeededStep, slots: int, classes: tuple[int, ...]) -> Mapping[int, Mask]:
        """Slots at which one rule lets such a step start, by bay class."""
        climates, product = self.climates, self.shop.product_by_id[step.film.product_id] if step.film else None
        match rule:
            case "shift_hours":
                worked = climates.in_one_piece(slots, may_pause=step.method.may_pause and product is None)
                return self._once_open(classes, worked & self._tools_in_service(step, slots))
            case "weather_window":
                return climates.weather_in(classes, step.method, slots, product)
        return climates.alike.everywhere(classes, below(len(climates.grid)))

    def _once_open(self, classes: tuple[int, ...], mask: Mask) -> Mapping[int, Mask]:
        """Take out what lies before a bay that is shut when the plan begins opens again."""
        opens = {c: self.climates.classes[c].opens for c in classes}
        if not any(opens.values()):
            return self.climates.alike.everywhere(classes, mask)
        return {c: mask & ~below(first) for c, first in opens.items()}

    def _tools_in_service(self, step: NeededStep, slots: int) -> int:
        """Slots from which a step can keep each of its tools to its end."""
        tools = tuple(kind for kind in COUNTED if kind in step.method.tools)
        return self.climates.alike.once(("tools", tools, slots), lambda: self._tools_open(tools, slots))

    def _tools_open(self, tools: tuple[Kind, ...], slots: int) -> int:
        mask = below(len(self.climates.grid))
        for kind in tools:
            mask &= in_service(self.shop, self.climates.grid, kind, slots)
        return mask

    def _crew(self, step: NeededStep, mass_kg: float, *, warm: bool) -> tuple[tuple[str, int], ...]:
        needs = step.method.crew_needs()
        if warm and sum(n for _, n in needs) < 2:
            needs = (*needs, ("attendant", 1))
        if Kind.LIFT in step.method.tools:
            needs = (*needs, (lift_skill(self.shop, mass_kg), 1))
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
