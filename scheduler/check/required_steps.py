"""Which steps a unit needs, in technical order, derived from the tables without the planner's routing."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from scheduler.check.needed_films import Film, bare_m2, blistered_m2, needed_films
from scheduler.check.rest import Task
from scheduler.check.rework import with_rework
from scheduler.shop.methods import FILM_STEPS, MOVE_STEPS, YARD_STEPS, Method, Step
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Substrate, Surface

_PLACE: Final = {step: place for place, step in enumerate(Step)}
_MUST_HAVE: Final = FILM_STEPS | {Step.WIPE, Step.ABRADE}


@dataclass(frozen=True, slots=True)
class NeededStep:
    """A step that a unit needs.

    Attributes
    ----------
    name : str
        As the schedule calls it: ``wash``, ``coat-2``, ``move_in-coat``.
    stage : str
        Stage of the stay it belongs to; ``yard`` for receive and dispatch.
    place : int
        Its place in the unit's technical order, 0 first.
    film : Film or None
        What is sprayed, for a film step.
    rest_of : str
        The step that was stopped and of which it is what is left; else empty.
    """

    step: Step
    name: str
    stage: str
    place: int
    area_m2: float
    film: Film | None
    rest_of: str = ""

    def minutes(self, method: Method) -> float:
        """Return its length by the method, min, before rounding to slots."""
        return method.set_up_min + (60.0 * self.area_m2 / method.m2_per_h if method.m2_per_h else 0.0)


@dataclass(frozen=True, slots=True)
class Route:
    """Steps of a unit in technical order, and the steps that it needs but the methods table cannot serve."""

    steps: tuple[NeededStep, ...]
    without_method: tuple[str, ...]


def required_route(shop: Shop, unit_id: str) -> Route:
    """Return the steps that a unit needs.

    Parameters
    ----------
    shop : Shop
        A valid one.
    unit_id : str
        A unit of the shop.
    """
    wanted = list(_in_bays(shop.surfaces_of[unit_id], needed_films(shop, unit_id)))
    missing = tuple(work.name for work in wanted if work.step in _MUST_HAVE and work.step not in shop.method_of)
    served = [work for work in wanted if work.step in shop.method_of]
    stages = list(dict.fromkeys(shop.method_of[work.step].stage for work in served))
    whole_m2 = sum(surface.area_m2 for surface in shop.surfaces_of[unit_id])
    placed = [pair for stage in stages for pair in _stay(shop, stage, served, whole_m2)]
    whole = with_rework(shop, unit_id, [*_yard(shop, Step.RECEIVE, whole_m2), *placed, *_yard(shop, Step.DISPATCH, whole_m2)])
    return Route(
        tuple(NeededStep(w.step, w.name, stage, i, w.area_m2, w.film, w.rest_of) for i, (stage, w) in enumerate(whole)),
        missing,
    )


def _stay(shop: Shop, stage: str, served: list[Task], whole_m2: float) -> Iterator[tuple[str, Task]]:
    inside = [work for work in served if shop.method_of[work.step].stage == stage]
    ends = [Task(step, f"{step}-{stage}", whole_m2) for step in (Step.MOVE_IN, Step.MOVE_OUT)]
    yield from ((stage, work) for work in (ends[0], *inside, ends[1]) if work.step in shop.method_of)


def _yard(shop: Shop, step: Step, whole_m2: float) -> Iterator[tuple[str, Task]]:
    if step in shop.method_of:
        yield "yard", Task(step, step.value, whole_m2)


def _in_bays(surfaces: tuple[Surface, ...], films: tuple[Film, ...]) -> Iterator[Task]:
    """Yield the steps between the moves, in technical order, whether or not the shop has a method for them."""
    areas = dict(_areas_m2(surfaces, films))
    films_first = _PLACE[Step.PRIME]
    for step in Step:
        if step in MOVE_STEPS | YARD_STEPS:
            continue
        if _PLACE[step] == films_first:
            yield from _named(films)
        if step not in FILM_STEPS and areas.get(step, 0.0) > 0:
            yield Task(step, step.value, areas[step])


def _areas_m2(surfaces: tuple[Surface, ...], films: tuple[Film, ...]) -> Iterator[tuple[Step, float]]:
    total = sum(s.area_m2 for s in surfaces)
    kept = sum(s.area_m2 for s in surfaces if s.substrate is not Substrate.BLISTERED)
    coated = {part for film in films for part in film.parts}
    if kept > 0:
        yield Step.WASH, total
        yield Step.ABRADE, kept
    yield Step.STRIP, sum(bare_m2(s) for s in surfaces if s.substrate is Substrate.FAILING)
    yield Step.CUT_OUT, sum(blistered_m2(s) for s in surfaces)
    yield Step.WIPE, sum(_part_m2(surfaces[index], kind) for index, kind in coated)
    yield Step.INSPECT, total


def _part_m2(surface: Surface, kind: str) -> float:
    bare = bare_m2(surface)
    return {"bare": bare, "sound": surface.area_m2 - bare, "blister": blistered_m2(surface)}[kind]


def _named(films: tuple[Film, ...]) -> Iterator[Task]:
    """Yield the film steps under their names; a lone prime, touch-up or texture carries no number."""
    alike = Counter(film.step for film in films)
    so_far: Counter[Step] = Counter()
    for film in films:
        so_far[film.step] += 1
        alone = alike[film.step] == 1 and film.step is not Step.COAT
        name = film.step.value if alone else f"{film.step.value}-{so_far[film.step]}"
        yield Task(film.step, name, film.area_m2, film)
