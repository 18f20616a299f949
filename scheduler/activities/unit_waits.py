"""Waits between the steps of a unit: drying, holding, recoating, curing."""

import itertools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from scheduler.activities.climates import Climates
from scheduler.activities.network import Curve
from scheduler.activities.rest import rest_root
from scheduler.activities.steps import NeededStep, Route
from scheduler.shop.methods import Step, prepares_again

ClassesOf = Callable[[str], tuple[int, ...]]


@dataclass(frozen=True)
class Wait:
    """A wait between two steps of a unit by name, before it is known which of them are still to do.

    Attributes
    ----------
    earliest, latest : Mapping[int, Curve]
        By the bay class of ``first``.
    minutes : float or None
        Length of a wait that is a matter of the clock alone.
    product_id, clock : str
        For other waits the product and the minimum time of its sheet that ``earliest`` is; ``latest`` is its recoat maximum.
    """

    first: str
    then: str
    rule: str
    earliest: Mapping[int, Curve]
    latest: Mapping[int, Curve]
    minutes: float | None = None
    product_id: str = ""
    clock: str = ""


def waits_of(route: Route, climates: Climates, classes_of: ClassesOf) -> Iterator[Wait]:
    """Yield every wait between two steps of a unit.

    Parameters
    ----------
    route : Route
    climates : Climates
    classes_of : callable
        Bay classes in which a stage of the unit may be done.
    """
    yield from _drying(route, climates, classes_of)
    yield from _holding(route, climates, classes_of)
    yield from _recoating(route, climates, classes_of)
    yield from _curing(route, climates, classes_of)


def _drying(route: Route, climates: Climates, classes_of: ClassesOf) -> Iterator[Wait]:
    """What dries does so before the next step; the rest of it may be wetted at once, and dries after that."""
    for step, following in itertools.pairwise(route.steps):
        minutes = step.method.dry_min
        if minutes > 0 and (step.film or following.rest_of != step.name):
            curves = climates.wait_in(classes_of(step.stage), minutes)
            yield Wait(step.name, following.name, "flash_off", curves, {}, minutes)


def _holding(route: Route, climates: Climates, classes_of: ClassesOf) -> Iterator[Wait]:
    """Whatever step has a hold time is followed within it by the next film of the unit, unless it is done again before."""
    for place, step in enumerate(route.steps):
        if step.method.hold_h is not None:
            minutes = step.method.hold_h * 60
            curves = climates.within_in(classes_of(step.stage), minutes)
            for film in _first_films(route, place):
                yield Wait(step.name, film, "hold_time", {}, curves, minutes)


def _first_films(route: Route, place: int) -> Iterator[str]:
    """Yield the first film on what a step prepared, and what is left of it where it was stopped, until it is prepared again.

    The rest of a step does what it left: it does nothing again.
    """
    first = ""
    for after in route.steps[place + 1 :]:
        if after.film and first in ("", rest_root(route.steps, after)):
            first = first or rest_root(route.steps, after)
            yield after.name
        elif after.film or (prepares_again(after.step, route.steps[place].step) and not after.rest_of):
            return


def _recoating(route: Route, climates: Climates, classes_of: ClassesOf) -> Iterator[Wait]:
    films = _films(route)
    for a, b in route.films.pairs:
        product = route.films.films[a].product_id
        classes = classes_of(films[a].stage)
        earliest = climates.cured_in(classes, product, "recoat_min")
        again = (films[a].name, films[b].name) in route.films.renewed
        latest = {} if again else climates.closes_in(classes, product)
        yield Wait(films[a].name, films[b].name, "recoat_window", earliest, latest, None, product, "recoat_min")


def _curing(route: Route, climates: Climates, classes_of: ClassesOf) -> Iterator[Wait]:
    films, there = _films(route), {step.name for step in route.steps}

    def cured(i: int, clock: str, rule: str, then: str) -> Iterator[Wait]:
        product = route.films.films[i].product_id
        if then in there:
            curves = climates.cured_in(classes_of(films[i].stage), product, clock)
            yield Wait(films[i].name, then, rule, curves, {}, None, product, clock)

    for i in _last_of_a_stay(route, films):
        yield from cured(i, "handle", "dry_to_handle", f"{Step.MOVE_OUT}-{films[i].stage}")
    for i, step in _cut_into(route):
        yield from cured(i, "handle", "dry_to_handle", step)
    for i in route.films.lasts:
        yield from cured(i, "service", "return_to_service", Step.DISPATCH.value)


def _cut_into(route: Route) -> Iterator[tuple[int, str]]:
    """Yield films, by number, with the step that abrades them or cuts into them."""
    films = 0
    for step in route.steps:
        if step.film:
            films += 1
        elif films and step.step in {Step.ABRADE, Step.CUT_OUT}:
            yield films - 1, step.name


def _last_of_a_stay(route: Route, films: list[NeededStep]) -> list[int]:
    """Films that are the last on some part before the unit leaves their bay."""
    leaving = {a for a, b in route.films.pairs if films[a].stage != films[b].stage}
    return sorted(leaving | set(route.films.lasts))


def _films(route: Route) -> list[NeededStep]:
    return [step for step in route.steps if step.film]
