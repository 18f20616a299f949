"""Steps that make good what has gone wrong, from the table of rework, without the planner's way of putting them in.

A patch that is cut out and touched up is a part of its own: the touch-up is its first film, and the films after it lie on it too.
"""

from collections.abc import Iterator
from dataclasses import replace

from scheduler.check.needed_films import Film, Part
from scheduler.check.rest import Placed, Task, divided, share_ahead
from scheduler.physics.film import cartridges_for_run, practical_ml
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop


def with_rework(shop: Shop, unit_id: str, placed: Placed) -> Placed:
    """Return the steps with their stages once every row of the unit's rework has been put after the step that it names."""
    for row in shop.rework_of[unit_id]:
        names = [task.name for _, task in placed]
        if row.after in names:
            placed = _put(shop, unit_id, row, row.number or 0, placed, names.index(row.after) + 1)
    return placed


def _put(shop: Shop, unit_id: str, row: Rework, number: int, placed: Placed, at: int) -> Placed:
    if row.kind is ReworkKind.REST:
        return divided(placed, at - 1, number, row.share_pct / 100.0)
    before, after, (stage, last) = placed[:at], placed[at:], placed[at - 1]
    sprayed = [task.film for _, task in before if task.film is not None]
    film = next((task.film for _, task in before if task.film and task.name == row.film), sprayed[-1] if sprayed else None)
    if film is None or row.kind in {ReworkKind.WIPE, ReworkKind.ABRADE}:
        new = list(_prepare(row.kind, number, placed, at, film))
    elif row.kind is ReworkKind.REDO:
        name = next(task.name for _, task in before if task.film is film)
        again = Task(film.step, f"{name}-r{number}", film.area_m2, replace(film, dft_um=()))
        new = [*_steps(number, film.area_m2, Step.ABRADE, Step.WIPE), again]
    else:
        patch = _patch(shop, unit_id, row, number, film, sprayed)
        new = [
            *_steps(number, patch.area_m2, Step.CUT_OUT, Step.WIPE),
            Task(patch.step, f"{Step.TOUCH_UP}-r{number}", patch.area_m2, patch),
        ]
        after = [(place, _over(task, film.parts, number)) for place, task in after]
    new = [task for task in new if task.step in shop.method_of]
    wanted = row.stage if row.stage and any(place == row.stage for place, _ in placed) else stage
    if last.step is Step.MOVE_OUT:
        return [*before, *_stay_again(placed, stage if _comes_back_to(wanted, stage) else wanted, number, new), *after]
    if _comes_back_to(wanted, stage):
        return [*before, *((stage, task) for task in new), *after]
    detour = list(_stay_again(placed, wanted, number, new))
    return [*before, *_by_way_of(placed, stage, number, detour), *_later(after, stage, number)]


def _comes_back_to(stage: str, stay: str) -> bool:
    """Whether a stay is the first one in a stage or one after the unit was brought back: coat, coat-r1, coat-r1-r2."""
    name, *numbers = stay.removeprefix(stage).split("-r")
    return stay.startswith(stage) and not name and all(number.isdigit() for number in numbers)


def _by_way_of(placed: Placed, stay: str, number: int, detour: Placed) -> Iterator[tuple[str, Task]]:
    """Yield the way of a unit out of its stay, elsewhere, and into a new stay of the same kind."""
    moves = [task for place, task in placed if place == stay]
    yield from ((stay, task) for task in moves if task.step is Step.MOVE_OUT)
    yield from detour
    back = (replace(task, name=f"{task.name}-r{number}") for task in moves if task.step is Step.MOVE_IN)
    yield from ((f"{stay}-r{number}", task) for task in back)


def _later(after: Placed, stay: str, number: int) -> Iterator[tuple[str, Task]]:
    """Yield what comes later; what was left of a stay is of the new one, which the unit leaves by a move of its own."""
    for place, task in after:
        if place != stay:
            yield place, task
        elif task.step is Step.MOVE_OUT:
            yield f"{stay}-r{number}", replace(task, name=f"{task.name}-r{number}")
        else:
            yield f"{stay}-r{number}", task


def _stay_again(placed: Placed, stage: str, number: int, new: list[Task]) -> Iterator[tuple[str, Task]]:
    """Yield steps of a unit that is brought back to a stage: moved in, made good, inspected once more and moved out."""
    again = [replace(task, name=f"{task.name}-r{number}") for place, task in placed if place == stage]
    yield from ((f"{stage}-r{number}", task) for task in again if task.step is Step.MOVE_IN)
    yield from ((f"{stage}-r{number}", task) for task in new)
    yield from ((f"{stage}-r{number}", task) for task in again if task.step in {Step.INSPECT, Step.MOVE_OUT})


def _steps(number: int, area_m2: float, *steps: Step) -> Iterator[Task]:
    yield from (Task(step, f"{step.value}-r{number}", area_m2) for step in steps)


def _prepare(kind: ReworkKind, number: int, placed: Placed, at: int, film: Film | None) -> Iterator[Task]:
    """Yield what prepares the next film's area again: wiping after abrading only where nothing else wipes it before the film.

    The share of the area that a rest prepares before the film anyway is left to it.
    """
    after = [task for _, task in placed[at:]]
    until = next((i for i, task in enumerate(after) if task.film), len(after))
    area_m2 = after[until].area_m2 if until < len(after) else film.area_m2 if film else 0.0
    wiped = any(task.step is Step.WIPE and not task.rest_of for task in after[:until])
    for step in (Step.ABRADE, Step.WIPE):
        wanted = kind is not ReworkKind.WIPE if step is Step.ABRADE else kind is ReworkKind.WIPE or not wiped
        if wanted:
            yield from _steps(number, area_m2 * (1.0 - share_ahead(placed, step, after[:until])), step)


def _patch(shop: Shop, unit_id: str, row: Rework, number: int, film: Film, sprayed: list[Film]) -> Film:
    """Film that fills the patches of a film: what of its product lies there, on a share of its area, over a fresh profile."""
    share, product = row.share_pct / 100.0, film.product
    volume_ml = 0.0
    for part in film.parts:
        dft_um = sum(um for below in sprayed for (on, um) in below.dft_um if on == part and below.product == product)
        area_m2 = sum(m2 for on, m2 in film.part_m2 if on == part) * share
        profile_um = shop.surfaces_of[unit_id][part[0]].profile_um
        volume_ml += practical_ml(area_m2, dft_um, product.volume_solids_pct, profile_um, product.loss_pct)
    patches = {part: (part[0], f"{part[1]}-r{number}") for part in film.parts}
    return Film(
        step=Step.TOUCH_UP if Step.TOUCH_UP in shop.method_of else film.step,
        product=product,
        numbers=film.numbers,
        parts=frozenset(patches.values()),
        area_m2=film.area_m2 * share,
        volume_ml=volume_ml,
        packs=cartridges_for_run(volume_ml, product.usable_ml),
        dft_um=tuple(
            (patches[part], sum(um for below in sprayed for on, um in below.dft_um if on == part and below.product == product))
            for part in film.parts
        ),
        part_m2=tuple((patches[part], m2 * share) for part, m2 in film.part_m2),
    )


def _over(task: Task, parts: frozenset[Part], number: int) -> Task:
    """A later step, whose film lies on the patches of those parts that it covers."""
    if task.film is None:
        return task
    new = frozenset((index, f"{kind}-r{number}") for index, kind in task.film.parts & parts)
    thick = tuple(((part[0], f"{part[1]}-r{number}"), um) for part, um in task.film.dft_um if part in parts)
    return replace(task, film=replace(task.film, parts=task.film.parts | new, dft_um=(*task.film.dft_um, *thick)))
