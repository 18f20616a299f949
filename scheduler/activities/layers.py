"""Coats as layers on the parts of a unit; those of one run are sprayed in one go, and each run has a name."""

from dataclasses import dataclass

from scheduler.activities.parts import Part
from scheduler.shop.coating_system import AppliesTo
from scheduler.shop.layers import FILM_OF, goes_on, step_of
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Substrate


@dataclass(frozen=True, slots=True)
class Layer:
    """One film on one part; layers of one ``run`` (repair, coat number, product) are sprayed in one step."""

    run: tuple[int, int, str]
    step: Step
    coats: tuple[int, ...]
    part: Part
    dft_um: float
    first: bool


def layers_of(shop: Shop, part: Part) -> list[Layer]:
    """Layers of a part, the lowest first; a patch gets all coats that go everywhere in one touch-up."""
    coats = shop.coats_of[part.surface.system_id]
    if part.state is Substrate.BLISTERED:
        everywhere = [c for c in coats if c.applies_to is AppliesTo.ALL]
        numbers = tuple(c.coat for c in everywhere)
        dft_um = sum(c.dft_um for c in everywhere)
        return [Layer((1, 0, everywhere[-1].product_id), Step.TOUCH_UP, numbers, part, dft_um, True)]
    wanted = [c for c in coats if goes_on(c, part.surface, is_bare=part.state is Substrate.BARE)]
    return [Layer((0, c.coat, c.product_id), FILM_OF[c.applies_to], (c.coat,), part, c.dft_um, c is wanted[0]) for c in wanted]


def names_of(groups: list[list[Layer]]) -> list[str]:
    """Name of the step of each group, with a number where there are several of its kind, and for every coat."""
    steps = [step_of(group) for group in groups]
    names = []
    for i, step in enumerate(steps):
        single = steps.count(step) == 1 and step is not Step.COAT
        names.append(step.value if single else f"{step.value}-{steps[: i + 1].count(step)}")
    return names
