"""Which films a unit gets: coats over parts of surfaces, grouped into one step a coat and product."""

import itertools
from dataclasses import dataclass

from scheduler.activities.layers import Layer, layers_of, names_of
from scheduler.activities.parts import Part, parts_of
from scheduler.physics.film import cartridges_for_run, practical_ml
from scheduler.shop.layers import runs_of, step_of
from scheduler.shop.methods import Step
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Duty


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


def _millilitres(layer: Layer, product: Product) -> float:
    profile_um = layer.part.surface.profile_um if layer.first else 0.0
    return practical_ml(layer.part.area_m2, layer.dft_um, product.volume_solids_pct, profile_um, product.loss_pct)


def _why(layers: list[Layer]) -> str:
    names = ", ".join(dict.fromkeys(layer.part.surface.surface for layer in layers))
    match step_of(layers):
        case Step.PRIME:
            return f"bare steel needs a bonding primer: {names}"
        case Step.TOUCH_UP:
            return f"blisters were cut out: {names}"
        case Step.TEXTURE:
            return f"grip wanted: {names}"
    if all(layer.part.surface.duty is Duty.IMPACT for layer in layers):
        return f"things hit the surface: {names}"
    return f"keeps rust away: {names}"


def _film(shop: Shop, layers: list[Layer], name: str) -> Film:
    product = shop.product_by_id[layers[0].run[2]]
    volume_ml = sum(_millilitres(layer, product) for layer in layers)
    numbers = tuple(sorted({n for layer in layers for n in layer.coats}))
    area_m2 = sum(layer.part.area_m2 for layer in layers)
    packs = cartridges_for_run(volume_ml, product.usable_ml)
    return Film(step_of(layers), name, product.product_id, numbers, area_m2, volume_ml, packs, _why(layers))


def films_of(shop: Shop, unit_id: str) -> Films:
    """Films of a unit, in order of their coat numbers; repairs are touched up after the last coat that is no texture."""
    parts = parts_of(shop, unit_id)
    per_part = [layers_of(shop, part) for part in parts]
    groups = runs_of([layer for layers in per_part for layer in layers])
    names = dict(zip((group[0].run for group in groups), names_of(groups), strict=True))
    films = tuple(_film(shop, group, names[group[0].run]) for group in groups)
    order = {group[0].run: i for i, group in enumerate(groups)}
    runs = []
    for part, layers in zip(parts, per_part, strict=True):
        row = sorted(layers, key=lambda layer: order[layer.run])
        runs.append(Run(part, tuple(names[layer.run] for layer in row), tuple(layer.dft_um for layer in row)))
    return films_in(films, tuple(runs))
