"""Which films a unit gets: coats over parts of surfaces, grouped into one step a coat and product."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.physics.film import cartridges_for_run, practical_ml
from scheduler.shop.coating_system import AppliesTo, Coat
from scheduler.shop.methods import Step
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Duty, Substrate, Surface

STEP_OF = {
    AppliesTo.BARE: Step.PRIME,
    AppliesTo.ALL: Step.COAT,
    AppliesTo.IMPACT: Step.COAT,
    AppliesTo.GRIP: Step.TEXTURE,
}


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a surface that gets the same films throughout, and its area."""

    surface: Surface
    state: Substrate
    area_m2: float


@dataclass(frozen=True, slots=True)
class Film:
    """One film step of a unit: one coat of one product over all the parts that get it."""

    step: Step
    name: str
    product_id: str
    coat_numbers: tuple[int, ...]
    area_m2: float
    volume_ml: float
    packs: int
    reason: str


@dataclass(frozen=True, slots=True)
class Run:
    """The films of one part, the first one first, by name and with their thickness; ``patch`` is the touch-up that began it."""

    part: Part
    films: tuple[str, ...]
    dft_um: tuple[float, ...]
    patch: str = ""

    def is_area_of(self, film: str) -> bool:
        """Whether the area of the part belongs to a film: a patch lies within the area of the films that go over it."""
        own = not self.patch or film == self.patch or film.startswith(f"{self.patch}-r")
        return own and film in self.films


@dataclass(frozen=True, slots=True)
class Films:
    """A unit's films in order of application, which of them follow each other on some part, and which are last on one.

    ``renewed`` are pairs between which the surface is abraded again, so that the recoat maximum does not count.
    """

    films: tuple[Film, ...]
    pairs: tuple[tuple[int, int], ...]
    lasts: tuple[int, ...]
    runs: tuple[Run, ...] = ()
    renewed: frozenset[tuple[str, str]] = frozenset()


def films_in(films: tuple[Film, ...], runs: tuple[Run, ...], renewed: frozenset[tuple[str, str]] = frozenset()) -> Films:
    """Films with what follows what on the parts."""
    place = {film.name: i for i, film in enumerate(films)}
    on = [[place[name] for name in run.films] for run in runs if run.films]
    pairs = {(a, b) for row in on for a, b in itertools.pairwise(row)}
    return Films(films, tuple(sorted(pairs)), tuple(sorted({row[-1] for row in on})), runs, renewed)


@dataclass(frozen=True, slots=True)
class _Layer:
    """One film on one part; layers of one ``key`` (repair, coat number, product) are sprayed in one step."""

    key: tuple[int, int, str]
    step: Step
    coats: tuple[int, ...]
    part: Part
    dft_um: float
    first: bool


def parts_of(shop: Shop, unit_id: str) -> tuple[Part, ...]:
    """Split a unit's surfaces into parts that are bare, sound or blistered; flakes come off and leave bare steel."""
    return tuple(part for surface in shop.surfaces_of[unit_id] for part in _split(surface) if part.area_m2 > 0)


def _split(surface: Surface) -> Iterator[Part]:
    share = surface.failing_pct / 100
    if surface.substrate is Substrate.BLISTERED:
        yield Part(surface, Substrate.BLISTERED, surface.area_m2 * share)
        return
    bare = {Substrate.BARE: 1.0, Substrate.SOUND: 0.0, Substrate.FAILING: share}[surface.substrate]
    yield Part(surface, Substrate.BARE, surface.area_m2 * bare)
    yield Part(surface, Substrate.SOUND, surface.area_m2 * (1 - bare))


def _wanted(coat: Coat, part: Part) -> bool:
    match coat.applies_to:
        case AppliesTo.BARE:
            return part.state is Substrate.BARE
        case AppliesTo.IMPACT:
            return part.surface.duty is Duty.IMPACT
        case AppliesTo.GRIP:
            return part.surface.grip
    return True


def _layers(shop: Shop, part: Part) -> list[_Layer]:
    coats = shop.coats_of[part.surface.system_id]
    if part.state is Substrate.BLISTERED:
        everywhere = [c for c in coats if c.applies_to is AppliesTo.ALL]
        numbers = tuple(c.coat for c in everywhere)
        dft_um = sum(c.dft_um for c in everywhere)
        return [_Layer((1, 0, everywhere[-1].product_id), Step.TOUCH_UP, numbers, part, dft_um, True)]
    wanted = [c for c in coats if _wanted(c, part)]
    return [
        _Layer((0, c.coat, c.product_id), STEP_OF[c.applies_to], (c.coat,), part, c.dft_um, i == 0) for i, c in enumerate(wanted)
    ]


def _millilitres(layer: _Layer, product: Product) -> float:
    profile_um = layer.part.surface.profile_um if layer.first else 0.0
    return practical_ml(layer.part.area_m2, layer.dft_um, product.volume_solids_pct, profile_um, product.loss_pct)


def _step_of(layers: list[_Layer]) -> Step:
    """Kind of a step; one that serves several kinds at once is a coat."""
    kinds = {layer.step for layer in layers}
    return kinds.pop() if len(kinds) == 1 else Step.COAT


def _why(layers: list[_Layer]) -> str:
    names = ", ".join(dict.fromkeys(layer.part.surface.surface for layer in layers))
    match _step_of(layers):
        case Step.PRIME:
            return f"bare steel needs a bonding primer: {names}"
        case Step.TOUCH_UP:
            return f"blisters were cut out: {names}"
        case Step.TEXTURE:
            return f"grip wanted: {names}"
    if all(layer.part.surface.duty is Duty.IMPACT for layer in layers):
        return f"things hit the surface: {names}"
    return f"keeps rust away: {names}"


def _film(shop: Shop, layers: list[_Layer], name: str) -> Film:
    product = shop.product_by_id[layers[0].key[2]]
    volume_ml = sum(_millilitres(layer, product) for layer in layers)
    numbers = tuple(sorted({n for layer in layers for n in layer.coats}))
    area_m2 = sum(layer.part.area_m2 for layer in layers)
    packs = cartridges_for_run(volume_ml, product.usable_ml)
    return Film(_step_of(layers), name, product.product_id, numbers, area_m2, volume_ml, packs, _why(layers))


def _names(groups: list[list[_Layer]]) -> list[str]:
    steps = [_step_of(group) for group in groups]
    names = []
    for i, step in enumerate(steps):
        single = steps.count(step) == 1 and step is not Step.COAT
        names.append(step.value if single else f"{step.value}-{steps[: i + 1].count(step)}")
    return names


def _in_order(layers: list[_Layer]) -> list[list[_Layer]]:
    groups = [[layer for layer in layers if layer.key == key] for key in sorted({layer.key for layer in layers})]
    coats = [group for group in groups if not group[0].key[0]]
    repairs = [group for group in groups if group[0].key[0]]
    before = max((i + 1 for i, group in enumerate(coats) if _step_of(group) is not Step.TEXTURE), default=0)
    return [*coats[:before], *repairs, *coats[before:]]


def films_of(shop: Shop, unit_id: str) -> Films:
    """Films of a unit, in order of their coat numbers; repairs are touched up after the last coat that is no texture."""
    parts = parts_of(shop, unit_id)
    per_part = [_layers(shop, part) for part in parts]
    groups = _in_order([layer for layers in per_part for layer in layers])
    names = dict(zip((group[0].key for group in groups), _names(groups), strict=True))
    films = tuple(_film(shop, group, names[group[0].key]) for group in groups)
    order = {group[0].key: i for i, group in enumerate(groups)}
    runs = []
    for part, layers in zip(parts, per_part, strict=True):
        row = sorted(layers, key=lambda layer: order[layer.key])
        runs.append(Run(part, tuple(names[layer.key] for layer in row), tuple(layer.dft_um for layer in row)))
    return films_in(films, tuple(runs))
