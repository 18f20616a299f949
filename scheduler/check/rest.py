"""What is left of a step that was stopped, from the table of rework, without the planner's way of dividing it.

The area of a film that was stopped has three kinds of parts: what was sprayed, what is left (marked ``-r``), and the edge between
the two (marked ``-e``, without an area of its own), over which the rest of the film laps.
"""

from dataclasses import dataclass, replace

from scheduler.check.needed_films import Film, Part
from scheduler.physics.film import cartridges_for_run
from scheduler.shop.methods import Step


@dataclass(frozen=True, slots=True)
class Task:
    """A step of a unit before it has a stage and a place; ``rest_of`` names the stopped step of which it is what is left."""

    step: Step
    name: str
    area_m2: float
    film: Film | None = None
    rest_of: str = ""


Placed = list[tuple[str, Task]]
"""Steps with their stages, in technical order."""


def divided(placed: Placed, at: int, number: int, share: float) -> Placed:
    """Return the steps with the one at a place cut into what was done and its rest, a share of it, which comes next."""
    stage, stopped = placed[at]
    rest = Task(stopped.step, f"{stopped.name}-r{number}", stopped.area_m2 * share, rest_of=stopped.name)
    done = replace(stopped, area_m2=stopped.area_m2 * (1.0 - share))
    others = placed
    if stopped.film is not None:
        cut = stopped.film.parts
        sprayed = _share_of(stopped.film, 1.0 - share)
        done = replace(done, film=replace(sprayed, parts=cut | _marked(cut, f"-e{number}")))
        rest = replace(rest, film=_left(_share_of(stopped.film, share), number))
        others = [(place, _on_all(task, cut, number, share)) for place, task in placed]
    return [*others[:at], (stage, done), (stage, rest), *others[at + 1 :]]


def _marked(parts: frozenset[Part], mark: str) -> frozenset[Part]:
    return frozenset((index, kind + mark) for index, kind in parts)


def _share_of(film: Film, share: float) -> Film:
    volume_ml = film.volume_ml * share
    return replace(
        film,
        area_m2=film.area_m2 * share,
        volume_ml=volume_ml,
        packs=cartridges_for_run(volume_ml, film.product.usable_ml),
        part_m2=tuple((part, m2 * share) for part, m2 in film.part_m2),
    )


def _left(film: Film, number: int) -> Film:
    """The film of the rest: on its own parts and on the edges."""
    mark = f"-r{number}"
    return replace(
        film,
        parts=_marked(film.parts, mark) | _marked(film.parts, f"-e{number}"),
        dft_um=tuple(((index, kind + mark), um) for (index, kind), um in film.dft_um),
        part_m2=tuple(((index, kind + mark), m2) for (index, kind), m2 in film.part_m2),
    )


def _on_all(task: Task, cut: frozenset[Part], number: int, share: float) -> Task:
    """A step before or after, whose film lies under or over all three kinds of parts."""
    film, mark = task.film, f"-r{number}"
    if film is None or not film.parts & cut:
        return task
    here = film.parts & cut
    areas = [
        row
        for part, m2 in film.part_m2
        for row in (((part, m2 * (1.0 - share)), ((part[0], part[1] + mark), m2 * share)) if part in cut else ((part, m2),))
    ]
    thick = [((part[0], part[1] + mark), um) for part, um in film.dft_um if part in cut]
    parts = film.parts | _marked(here, mark) | _marked(here, f"-e{number}")
    return replace(task, film=replace(film, parts=parts, part_m2=tuple(areas), dft_um=(*film.dft_um, *thick)))


def share_ahead(placed: Placed, kind: Step, ahead: list[Task]) -> float:
    """Share of the area of a kind of step that its rests among ``ahead`` are still to do."""
    rests = [task for task in ahead if task.step is kind and task.rest_of]
    if not rests:
        return 0.0
    of = {task.name: task.rest_of for _, task in placed}
    whole = sum(task.area_m2 for _, task in placed if stopped_first(of, task.name) == stopped_first(of, rests[0].name))
    return sum(task.area_m2 for task in rests) / whole if whole > 0 else 0.0


def stopped_first(rest_of: dict[str, str], name: str) -> str:
    """The step at the beginning of a row of rests; ``rest_of`` has the stopped step by that which is its rest."""
    while rest_of.get(name):
        name = rest_of[name]
    return name
