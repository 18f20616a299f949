"""Which films a unit needs: coats of its coating systems, part of surface by part of surface, and their millilitres.

A surface has parts that get different coats: bare steel, and existing coating that is sound. A blistered surface has
one part only, the blisters that are cut out and touched up.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from scheduler.physics.film import cartridges_for_run, practical_ml
from scheduler.shop.coating_system import AppliesTo, Coat
from scheduler.shop.methods import Step
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Duty, Substrate, Surface

Part = tuple[int, str]
"""A part of a surface: the place of the surface in the unit's list, and bare, sound or blister."""

_STEP_OF: Final = {AppliesTo.BARE: Step.PRIME, AppliesTo.GRIP: Step.TEXTURE}


@dataclass(frozen=True, slots=True)
class Film:
    """One film step of a unit; ``dft_um`` and ``part_m2`` hold thickness and area of each of its parts."""

    step: Step
    product: Product
    numbers: tuple[int, ...]
    parts: frozenset[Part]
    area_m2: float
    volume_ml: float
    packs: int
    dft_um: tuple[tuple[Part, float], ...] = ()
    part_m2: tuple[tuple[Part, float], ...] = ()


@dataclass(frozen=True, slots=True)
class _Layer:
    """One coat on one part of a surface."""

    step: Step
    numbers: tuple[int, ...]
    product_id: str
    part: Part
    area_m2: float
    dft_um: float
    profile_um: float


def needed_films(shop: Shop, unit_id: str) -> tuple[Film, ...]:
    """Films of a unit in technical order: by coat number and product, the touch-up after the last coat before any texture.

    Parameters
    ----------
    shop : Shop
        A valid one: every system and product of the unit's surfaces is there.
    unit_id : str
        A unit of the shop.

    Returns
    -------
    tuple of Film
        One for each run of the gun.
    """
    groups: dict[tuple[bool, int, str], list[_Layer]] = defaultdict(list)
    for index, surface in enumerate(shop.surfaces_of[unit_id]):
        for layer in _layers(index, surface, shop.coats_of[surface.system_id]):
            touch_up = layer.step is Step.TOUCH_UP
            groups[touch_up, 0 if touch_up else layer.numbers[0], layer.product_id].append(layer)
    coats = [_film(shop, groups[key]) for key in sorted(groups) if not key[0]]
    repairs = [_film(shop, groups[key]) for key in sorted(groups) if key[0]]
    before = max((i + 1 for i, film in enumerate(coats) if film.step is not Step.TEXTURE), default=0)
    return (*coats[:before], *repairs, *coats[before:])


def bare_m2(surface: Surface) -> float:
    """Bare steel of a surface once failing coating has been taken off, m²."""
    share = {Substrate.BARE: 100.0, Substrate.FAILING: surface.failing_pct}.get(surface.substrate, 0.0)
    return surface.area_m2 * share / 100.0


def blistered_m2(surface: Surface) -> float:
    """Blisters to cut out of a surface, m²."""
    return surface.area_m2 * surface.failing_pct / 100.0 if surface.substrate is Substrate.BLISTERED else 0.0


def _layers(index: int, surface: Surface, coats: tuple[Coat, ...]) -> Iterator[_Layer]:
    if surface.substrate is Substrate.BLISTERED:
        yield from _repair(index, surface, [coat for coat in coats if coat.applies_to is AppliesTo.ALL])
        return
    bare = bare_m2(surface)
    for kind, area_m2 in (("bare", bare), ("sound", surface.area_m2 - bare)):
        on_part = [coat for coat in coats if _applies(coat, surface, kind)] if area_m2 > 0 else []
        for place, coat in enumerate(on_part):
            profile_um = surface.profile_um if place == 0 else 0.0
            step = _STEP_OF.get(coat.applies_to, Step.COAT)
            yield _Layer(step, (coat.coat,), coat.product_id, (index, kind), area_m2, coat.dft_um, profile_um)


def _repair(index: int, surface: Surface, coats: list[Coat]) -> Iterator[_Layer]:
    area_m2, dft_um = blistered_m2(surface), sum(coat.dft_um for coat in coats)
    if coats and area_m2 > 0:
        numbers = tuple(coat.coat for coat in coats)
        yield _Layer(Step.TOUCH_UP, numbers, coats[-1].product_id, (index, "blister"), area_m2, dft_um, surface.profile_um)


def _applies(coat: Coat, surface: Surface, kind: str) -> bool:
    wanted = {
        AppliesTo.BARE: kind == "bare",
        AppliesTo.ALL: True,
        AppliesTo.IMPACT: surface.duty is Duty.IMPACT,
        AppliesTo.GRIP: surface.grip,
    }
    return wanted[coat.applies_to]


def _film(shop: Shop, layers: list[_Layer]) -> Film:
    product = shop.product_by_id[layers[0].product_id]
    volume_ml = sum(practical_ml(y.area_m2, y.dft_um, product.volume_solids_pct, y.profile_um, product.loss_pct) for y in layers)
    return Film(
        step=_common_step(layer.step for layer in layers),
        product=product,
        numbers=tuple(sorted({number for layer in layers for number in layer.numbers})),
        parts=frozenset(layer.part for layer in layers),
        area_m2=sum(layer.area_m2 for layer in layers),
        volume_ml=volume_ml,
        packs=cartridges_for_run(volume_ml, product.usable_ml),
        dft_um=tuple((layer.part, layer.dft_um) for layer in layers),
        part_m2=tuple((layer.part, layer.area_m2) for layer in layers),
    )


def _common_step(steps: Iterable[Step]) -> Step:
    """Return the one kind of the layers; a run that serves several kinds counts as a coat."""
    kinds = set(steps)
    return kinds.pop() if len(kinds) == 1 else Step.COAT
