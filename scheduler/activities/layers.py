"""Coats as layers on the parts of a unit, grouped into steps: what is sprayed in one go, in which order, under which name."""

from dataclasses import dataclass

from scheduler.activities.parts import Part
from scheduler.shop.coating_system import AppliesTo, Coat
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Duty, Substrate

STEP_OF = {
    AppliesTo.BARE: Step.PRIME,
    AppliesTo.ALL: Step.COAT,
    AppliesTo.IMPACT: Step.COAT,
    AppliesTo.GRIP: Step.TEXTURE,
}


@dataclass(frozen=True, slots=True)
class Layer:
    """One film on one part; layers of one ``key`` (repair, coat number, product) are sprayed in one step."""

    key: tuple[int, int, str]
    step: Step
    coats: tuple[int, ...]
    part: Part
    dft_um: float
    first: bool


def _wanted(coat: Coat, part: Part) -> bool:
    match coat.applies_to:
        case AppliesTo.BARE:
            return part.state is Substrate.BARE
        case AppliesTo.IMPACT:
            return part.surface.duty is Duty.IMPACT
        case AppliesTo.GRIP:
            return part.surface.grip
    return True


def layers_of(shop: Shop, part: Part) -> list[Layer]:
    """Layers of a part, the lowest first; a patch gets all coats that go everywhere in one touch-up."""
    coats = shop.coats_of[part.surface.system_id]
    if part.state is Substrate.BLISTERED:
        everywhere = [c for c in coats if c.applies_to is AppliesTo.ALL]
        numbers = tuple(c.coat for c in everywhere)
        dft_um = sum(c.dft_um for c in everywhere)
        return [Layer((1, 0, everywhere[-1].product_id), Step.TOUCH_UP, numbers, part, dft_um, True)]
    wanted = [c for c in coats if _wanted(c, part)]
    return [
        Layer((0, c.coat, c.product_id), STEP_OF[c.applies_to], (c.coat,), part, c.dft_um, i == 0) for i, c in enumerate(wanted)
    ]


def step_of(layers: list[Layer]) -> Step:
    """Kind of a step; one that serves several kinds at once is a coat."""
    kinds = {layer.step for layer in layers}
    return kinds.pop() if len(kinds) == 1 else Step.COAT


def names_of(groups: list[list[Layer]]) -> list[str]:
    """Name of the step of each group, with a number where there are several of its kind, and for every coat."""
    steps = [step_of(group) for group in groups]
    names = []
    for i, step in enumerate(steps):
        single = steps.count(step) == 1 and step is not Step.COAT
        names.append(step.value if single else f"{step.value}-{steps[: i + 1].count(step)}")
    return names


def in_order(layers: list[Layer]) -> list[list[Layer]]:
    """Layers by step, in order of their coat numbers; repairs after the last coat that is no texture."""
    groups = [[layer for layer in layers if layer.key == key] for key in sorted({layer.key for layer in layers})]
    coats = [group for group in groups if not group[0].key[0]]
    repairs = [group for group in groups if group[0].key[0]]
    before = max((i + 1 for i, group in enumerate(coats) if step_of(group) is not Step.TEXTURE), default=0)
    return [*coats[:before], *repairs, *coats[before:]]
