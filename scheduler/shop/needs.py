"""What a unit certainly needs: its steps with area, minutes and packs. The border checks the resources against it."""

from collections.abc import Iterator
from typing import Final

from scheduler.shop.layers import Layer, layers_of, packs_of, runs_of, step_of, volume_ml_of
from scheduler.shop.methods import MOVE_STEPS, Step
from scheduler.shop.need import Need
from scheduler.shop.rework_needs import with_rework
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Substrate, Surface

REQUIRED_STEPS: Final = frozenset({Step.ABRADE, Step.WIPE, Step.PRIME, Step.COAT, Step.TOUCH_UP, Step.TEXTURE})


def needs_of(shop: Shop, unit_id: str) -> tuple[Need, ...]:
    """Steps of a unit in technical order; optional ones without a method are left out, unknown systems and products too."""
    return with_rework(shop, shop.rework_of.get(unit_id, ()), needs_at_first(shop, unit_id))


def needs_at_first(shop: Shop, unit_id: str) -> tuple[Need, ...]:
    """Steps of a unit without what has to be made good."""
    inner = [n for n in _inner(shop, shop.surfaces_of[unit_id]) if n.method is not None or n.step in REQUIRED_STEPS]
    unit_m2 = sum(surface.area_m2 for surface in shop.surfaces_of[unit_id])
    steps = [_move(shop, Step.RECEIVE, "", unit_m2)]
    for stage in dict.fromkeys(n.method.stage for n in inner if n.method is not None):
        here = [n for n in inner if n.method is not None and n.method.stage == stage]
        steps += [_move(shop, Step.MOVE_IN, stage, unit_m2), *here, _move(shop, Step.MOVE_OUT, stage, unit_m2)]
    steps += [n for n in inner if n.method is None]
    steps.append(_move(shop, Step.DISPATCH, "", unit_m2))
    return tuple(n for n in steps if n.method is not None or n.step not in MOVE_STEPS)


def stages_of(needs: tuple[Need, ...]) -> tuple[str, ...]:
    """Stages with a stay in a bay, in order."""
    inner = (n for n in needs if n.step not in MOVE_STEPS and n.method is not None)
    return tuple(dict.fromkeys(n.method.stage for n in inner if n.method is not None))


def _move(shop: Shop, step: Step, stage: str, unit_m2: float) -> Need:
    return Need(step, f"{step.value}-{stage}" if stage else step.value, unit_m2, shop.method_of.get(step))


def _inner(shop: Shop, surfaces: tuple[Surface, ...]) -> Iterator[Need]:
    blistered = sum(s.area_m2 * s.failing_pct / 100 for s in surfaces if s.substrate is Substrate.BLISTERED)
    flaking = sum(s.area_m2 * s.failing_pct / 100 for s in surfaces if s.substrate is Substrate.FAILING)
    whole = sum(s.area_m2 for s in surfaces if s.substrate is not Substrate.BLISTERED)
    total = sum(s.area_m2 for s in surfaces)
    washed = total if whole > 0 else 0.0
    areas = {Step.WASH: washed, Step.STRIP: flaking, Step.ABRADE: whole, Step.CUT_OUT: blistered, Step.WIPE: whole + blistered}
    for step, area_m2 in areas.items():
        if area_m2 > 0:
            yield Need(step, step.value, area_m2, shop.method_of.get(step))
    yield from _films(shop, [layer for s in surfaces for layer in layers_of(shop, s)])
    if whole + blistered > 0:
        yield Need(Step.INSPECT, Step.INSPECT.value, total, shop.method_of.get(Step.INSPECT))


def _films(shop: Shop, layers: list[Layer]) -> Iterator[Need]:
    groups = runs_of(layers)
    steps = [step_of(group) for group in groups]
    for i, group in enumerate(groups):
        single = steps.count(steps[i]) == 1 and steps[i] is not Step.COAT
        name = steps[i].value if single else f"{steps[i].value}-{steps[: i + 1].count(steps[i])}"
        product = shop.product_by_id.get(group[0].run[2])
        area_m2 = sum(layer.area_m2 for layer in group)
        volume_ml = volume_ml_of(group, product)
        yield Need(steps[i], name, area_m2, shop.method_of.get(steps[i]), product, packs_of(volume_ml, product), volume_ml)
