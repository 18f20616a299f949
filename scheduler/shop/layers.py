"""The films that a unit's surfaces get: layers over parts of surfaces, in order, and the packs that they take.

Trade defaults (common practice, no source): primer on bare steel only; flaking coating comes off and leaves bare steel;
blisters are cut out and touched up with the last coat that goes everywhere.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Protocol, TypeVar

from scheduler.physics.film import cartridges_for_run, practical_ml
from scheduler.shop.coating_system import AppliesTo, Coat
from scheduler.shop.methods import Step
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Duty, Substrate, Surface

FILM_OF: Final = {
    AppliesTo.BARE: Step.PRIME,
    AppliesTo.ALL: Step.COAT,
    AppliesTo.IMPACT: Step.COAT,
    AppliesTo.GRIP: Step.TEXTURE,
}


@dataclass(frozen=True, slots=True)
class Layer:
    """One film over one part of a surface; layers of one ``run`` (repair, coat number, product) are sprayed as one step."""

    run: tuple[int, int, str]
    step: Step
    area_m2: float
    dft_um: float
    profile_um: float


class InARun(Protocol):
    """A layer as grouping sees it: which run it belongs to, and the kind of its step."""

    @property
    def run(self) -> tuple[int, int, str]:
        """Repair, coat number, product."""

    @property
    def step(self) -> Step:
        """Kind of step by which it is put on."""


L = TypeVar("L", bound=InARun)


def runs_of(layers: Sequence[L]) -> list[list[L]]:
    """Layers by step, in the order of their coat numbers; repairs come after the last coat that is no texture."""
    groups = [[layer for layer in layers if layer.run == run] for run in sorted({layer.run for layer in layers})]
    coats, repairs = [g for g in groups if not g[0].run[0]], [g for g in groups if g[0].run[0]]
    before = max((i + 1 for i, group in enumerate(coats) if step_of(group) is not Step.TEXTURE), default=0)
    return [*coats[:before], *repairs, *coats[before:]]


def step_of(layers: Sequence[InARun]) -> Step:
    """Kind of a step; one that serves several kinds at once is a coat."""
    kinds = {layer.step for layer in layers}
    return kinds.pop() if len(kinds) == 1 else Step.COAT


def volume_ml_of(layers: list[Layer], product: Product | None) -> float:
    """Millilitres that one film step takes, losses included; 0 if the product is unknown or its sheet makes no sense."""
    if product is None or product.usable_ml <= 0 or product.volume_solids_pct <= 0 or product.loss_pct >= 100:
        return 0.0
    solids_pct, loss_pct = product.volume_solids_pct, product.loss_pct
    return sum(practical_ml(layer.area_m2, layer.dft_um, solids_pct, layer.profile_um, loss_pct) for layer in layers)


def packs_of(volume_ml: float, product: Product | None) -> int:
    """Packs that one film step opens; 0 if the product is unknown or its sheet makes no sense."""
    return cartridges_for_run(volume_ml, product.usable_ml) if product is not None and volume_ml > 0 else 0


def layers_of(shop: Shop, surface: Surface) -> Iterator[Layer]:
    """Layers of one surface; none if its system is unknown."""
    coats = shop.coats_of.get(surface.system_id, ())
    share = surface.failing_pct / 100
    if surface.substrate is Substrate.BLISTERED:
        everywhere = [c for c in coats if c.applies_to is AppliesTo.ALL]
        if everywhere and share > 0:
            last, dft_um = everywhere[-1], sum(c.dft_um for c in everywhere)
            run = (1, 0, last.product_id)
            yield Layer(run, Step.TOUCH_UP, surface.area_m2 * share, dft_um, surface.profile_um)
        return
    bare = {Substrate.BARE: 1.0, Substrate.FAILING: share}.get(surface.substrate, 0.0)
    for is_bare, part in ((True, bare), (False, 1 - bare)):
        wanted = [c for c in coats if goes_on(c, surface, is_bare=is_bare)] if part > 0 else []
        for i, coat in enumerate(wanted):
            run = (0, coat.coat, coat.product_id)
            profile_um = surface.profile_um if i == 0 else 0.0
            yield Layer(run, FILM_OF[coat.applies_to], surface.area_m2 * part, coat.dft_um, profile_um)


def goes_on(coat: Coat, surface: Surface, *, is_bare: bool) -> bool:
    """Whether a coat of a system goes on a part of a surface."""
    return {
        AppliesTo.BARE: is_bare,
        AppliesTo.ALL: True,
        AppliesTo.IMPACT: surface.duty is Duty.IMPACT,
        AppliesTo.GRIP: surface.grip,
    }[coat.applies_to]
