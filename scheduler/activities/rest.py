"""What is left of a step that was stopped: work of its own behind the step, which keeps the share that was done."""

from collections.abc import Iterator
from dataclasses import replace

from scheduler.activities.films import Film, Films, Run, films_in
from scheduler.activities.steps import NeededStep, Route
from scheduler.physics.film import cartridges_for_run
from scheduler.shop.fixed import Rework
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop


def with_rest(shop: Shop, route: Route, row: Rework, number: int) -> Route:
    """Divide a step that was stopped into what was done of it and its rest.

    The rest of a film lies on what the film lies on, under what comes over it, and laps over the edge of what was sprayed: the
    recoat window of the film that was stopped holds there (common practice, no source).
    """
    at = next(i for i, step in enumerate(route.steps) if step.name == row.after)
    step, share = route.steps[at], row.share_pct / 100
    name = f"{step.name}-r{number}"
    done, rest, films = _share_of(shop, step, 1 - share), _share_of(shop, step, share), route.films
    rest = replace(rest, name=name, reason=f"rest of {step.name}: {row.reason}", rest_of=step.name)
    if done.film is not None and rest.film is not None:
        rest = replace(rest, film=replace(rest.film, name=name, reason=rest.reason))
        films = _films(films, done.film, rest.film or done.film, share)
    return Route(route.unit_id, (*route.steps[:at], done, rest, *route.steps[at + 1 :]), films)


def left_share(steps: tuple[NeededStep, ...], kind: Step, ahead: tuple[NeededStep, ...]) -> float:
    """Share of its area that a kind of step has still ahead of it as a rest: nobody has to do that again.

    Parameters
    ----------
    steps : tuple of NeededStep
        All steps of the unit.
    kind : Step
    ahead : tuple of NeededStep
        Those among them in which the rest may lie.
    """
    rests = [step for step in ahead if step.step is kind and step.rest_of]
    if not rests:
        return 0.0
    root = rest_root(steps, rests[0])
    whole = sum(step.area_m2 for step in steps if rest_root(steps, step) == root)
    return sum(step.area_m2 for step in rests) / whole if whole > 0 else 0.0


def rest_root(steps: tuple[NeededStep, ...], step: NeededStep) -> str:
    """Name of the step that was stopped first and of which a step is the rest, or the rest of the rest; else its own."""
    while step.rest_of:
        step = next(other for other in steps if other.name == step.rest_of)
    return step.name


def _share_of(shop: Shop, step: NeededStep, share: float) -> NeededStep:
    """A share of a step: of its area and of what it takes."""
    film = step.film
    if film is not None:
        volume_ml = film.volume_ml * share
        packs = cartridges_for_run(volume_ml, shop.product_by_id[film.product_id].usable_ml)
        film = replace(film, area_m2=film.area_m2 * share, volume_ml=volume_ml, packs=packs)
    return replace(step, area_m2=step.area_m2 * share, film=film)


def _films(films: Films, done: Film, rest: Film, share: float) -> Films:
    rows = tuple(row for old in films.films for row in ((done, rest) if old.name == done.name else (old,)))
    runs = tuple(new for run in films.runs for new in _divided(run, done.name, rest.name, share))
    alike = {(rest.name if a == done.name else a, rest.name if b == done.name else b) for a, b in films.renewed}
    return films_in(rows, runs, films.renewed | alike)


def _divided(run: Run, film: str, rest: str, share: float) -> Iterator[Run]:
    """Runs of a part with a film that was stopped: where it is, where its rest comes, and the edge, where both are."""
    if film not in run.films:
        yield run
        return
    at, part = run.films.index(film), run.part
    before, after = run.films[:at], run.films[at + 1 :]
    yield replace(run, part=replace(part, area_m2=part.area_m2 * (1 - share)))
    yield replace(run, part=replace(part, area_m2=part.area_m2 * share), films=(*before, rest, *after))
    thick = (*run.dft_um[: at + 1], 0.0, *run.dft_um[at + 1 :])
    yield Run(replace(part, area_m2=0.0), (*before, film, rest, *after), thick, run.patch)
