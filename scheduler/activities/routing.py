"""Routing: the steps that a unit needs, in technical order, each with the reason a person can read."""

from collections.abc import Iterator

from scheduler.activities.films import Film, Films, films_of
from scheduler.activities.parts import Part, parts_of
from scheduler.activities.rework import made_good
from scheduler.activities.steps import NeededStep, Route
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Substrate

ANY_STAGE = "any"
_WHY_MOVE = {
    Step.RECEIVE: "the unit comes off the truck",
    Step.MOVE_IN: "the unit goes into a bay",
    Step.MOVE_OUT: "the bay is freed for the next unit",
    Step.DISPATCH: "the unit goes back to the customer",
}


def route_of(shop: Shop, unit_id: str) -> Route:
    """Work out the route of a unit.

    Trade defaults, which ``methods`` and ``coating_systems`` change (common practice, no source): clean, abrade, wipe
    again; primer on bare steel only; a coating that comes off in flakes is taken off and its area treated as bare;
    blisters are cut out, wiped, left to dry and touched up. What the table of rework says is put in last.
    """
    films = films_of(shop, unit_id)
    unit_m2 = sum(surface.area_m2 for surface in shop.surfaces_of[unit_id])
    inner = [s for s in _inner(shop, parts_of(shop, unit_id), films, unit_m2) if s is not None]
    stages = list(dict.fromkeys(s.stage for s in inner))
    steps = [_move(shop, Step.RECEIVE, "", unit_m2)]
    for stage in stages:
        steps.append(_move(shop, Step.MOVE_IN, stage, unit_m2))
        steps += [s for s in inner if s.stage == stage]
        steps.append(_move(shop, Step.MOVE_OUT, stage, unit_m2))
    steps.append(_move(shop, Step.DISPATCH, "", unit_m2))
    return made_good(shop, Route(unit_id, tuple(s for s in steps if s is not None), films))


def _inner(shop: Shop, parts: tuple[Part, ...], films: Films, unit_m2: float) -> Iterator[NeededStep | None]:
    """Yield the steps between the moves; a unit is washed and inspected all over, also where only blisters are repaired."""
    blistered = _area(parts, Substrate.BLISTERED)
    whole = [p for p in parts if p.state is not Substrate.BLISTERED]
    flakes = sum(p.area_m2 for p in whole if p.surface.substrate is Substrate.FAILING and p.state is Substrate.BARE)
    area = sum(p.area_m2 for p in whole)
    yield _step(shop, Step.WASH, unit_m2 if area > 0 else 0.0, "dirt and salt must not get under the coating")
    yield _step(shop, Step.STRIP, flakes, f"coating comes off in flakes: {_names(whole, Substrate.FAILING)}")
    yield _step(shop, Step.ABRADE, area, "the coating needs a profile to hold on to")
    yield _step(shop, Step.CUT_OUT, blistered, f"blisters hold moisture: {_names(parts, Substrate.BLISTERED)}")
    yield _step(shop, Step.WIPE, area + blistered, "dust and grease must be off before the first film")
    for film in films.films:
        yield _film_step(shop, film)
    yield _step(shop, Step.INSPECT, unit_m2, "thickness and holidays are measured before the unit leaves the bay")


def _area(parts: tuple[Part, ...], state: Substrate) -> float:
    return sum(p.area_m2 for p in parts if p.state is state)


def _names(parts: tuple[Part, ...] | list[Part], substrate: Substrate) -> str:
    return ", ".join(dict.fromkeys(p.surface.surface for p in parts if p.surface.substrate is substrate))


def _step(shop: Shop, step: Step, area_m2: float, reason: str) -> NeededStep | None:
    method = shop.method_of.get(step)
    if method is None or area_m2 <= 0:
        return None
    return NeededStep(step, step.value, method.stage, method, area_m2, reason)


def _film_step(shop: Shop, film: Film) -> NeededStep:
    method = shop.method_of[film.step]
    return NeededStep(film.step, film.name, method.stage, method, film.area_m2, film.reason, film)


def _move(shop: Shop, step: Step, stage: str, unit_m2: float) -> NeededStep | None:
    method = shop.method_of.get(step)
    if method is None:
        return None
    name = f"{step.value}-{stage}" if stage else step.value
    return NeededStep(step, name, stage, method, unit_m2 if method.m2_per_h else 0.0, _WHY_MOVE[step])
