"""Every unit with its steps and the reason for each."""

from dataclasses import dataclass

from scheduler.documents.words.table import Table
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Work


@dataclass(frozen=True, slots=True)
class UnitSteps:
    """One unit.

    Attributes
    ----------
    unit_id, name, customer : str
    size : str
        Length, width, height and mass.
    steps : Table
        In the order in which they are done.
    """

    unit_id: str
    name: str
    customer: str
    size: str
    steps: Table


def unit_steps(words: WorkWords) -> tuple[UnitSteps, ...]:
    """Units that have work, in the order of the shop's table."""
    by_unit: dict[str, list[Work]] = {}
    for work in sorted(words.schedule.work, key=lambda w: w.start):
        by_unit.setdefault(work.unit_id, []).append(work)
    known = [unit.unit_id for unit in words.shop.units if unit.unit_id in by_unit]
    strays = [unit_id for unit_id in by_unit if unit_id not in words.shop.unit_by_id]
    return tuple(_unit(words, unit_id, by_unit[unit_id]) for unit_id in (*known, *strays))


def _unit(words: WorkWords, unit_id: str, works: list[Work]) -> UnitSteps:
    columns = ("step", "from", "to", "bay", "people", "how much", "why")
    steps = Table(f"Steps of {unit_id}", columns, tuple(_cells(words, work) for work in works))
    return UnitSteps(unit_id, words.unit(unit_id), words.customer(works[0].order_id), size_of(words, unit_id), steps)


def _cells(words: WorkWords, work: Work) -> tuple[str, ...]:
    marks = [mark for mark, on in (("done", work.done), ("typical weather", work.typical_weather)) if on]
    step = words.step(work) + (f" ({', '.join(marks)})" if marks else "")
    people = ", ".join(words.person(a.person_id) for a in work.people)
    amounts = [*([words.product(work.product_id)] if work.product_id else []), *words.how_much(work)]
    return (
        step,
        words.time.text(work.start),
        words.time.text(work.end),
        words.place(work),
        people,
        ", ".join(amounts),
        work.reason,
    )


def size_of(words: WorkWords, unit_id: str) -> str:
    """Length, width, height and mass of a unit; empty where the shop does not know it."""
    unit = words.shop.unit_by_id.get(unit_id)
    if unit is None:
        return ""
    metres = (words.units.length.text(m) for m in (unit.length_m, unit.width_m, unit.height_m))
    return f"{' × '.join(metres)}, {words.units.mass.text(unit.mass_kg)}"
