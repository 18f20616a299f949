"""The record of a unit: what is done to it, its coats with their lots, and room for the readings; it goes with the unit."""

from collections.abc import Mapping
from dataclasses import dataclass

from scheduler.documents.sheets.limits import Reading, readings
from scheduler.documents.sheets.measured import FilmReadings, Measured
from scheduler.documents.sheets.unit_steps import UnitSteps, unit_steps
from scheduler.documents.words.packs_words import packs_words
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Work
from scheduler.shop.methods import FILM_STEPS


@dataclass(frozen=True, slots=True)
class Coat:
    """One film of a unit.

    Attributes
    ----------
    step, when, place, product : str
    amounts : tuple of str
        Area, volume and packs.
    film : str
        Thickness that the coating systems of the unit's surfaces ask for.
    packs : tuple of str
        Lots and cartridges.
    readings : tuple of Reading
        What is still to be measured.
    measured : tuple of Measured
        What was measured and recorded.
    has_film_thickness : bool
        Whether a film thickness is among it.
    """

    step: str
    when: str
    place: str
    product: str
    amounts: tuple[str, ...]
    film: str
    packs: tuple[str, ...]
    readings: tuple[Reading, ...]
    measured: tuple[Measured, ...] = ()
    has_film_thickness: bool = False


@dataclass(frozen=True, slots=True)
class UnitRecord:
    """One unit."""

    unit_id: str
    name: str
    customer: str
    order: str
    size: str
    due: str
    steps: UnitSteps
    coats: tuple[Coat, ...]


def unit_records(words: WorkWords) -> tuple[UnitRecord, ...]:
    """Records of all units that have work, in the order of the shop's table."""
    films: dict[str, list[Work]] = {}
    for work in sorted(words.schedule.work, key=lambda w: w.start):
        films.setdefault(work.unit_id, []).extend([work] if work.step in FILM_STEPS else [])
    order_of = {work.unit_id: work.order_id for work in words.schedule.work}
    measured = FilmReadings(words).of_film
    return tuple(_record(words, unit, order_of[unit.unit_id], films[unit.unit_id], measured) for unit in unit_steps(words))


def _record(
    words: WorkWords, unit: UnitSteps, order_id: str, films: list[Work], measured: Mapping[str, tuple[Measured, ...]]
) -> UnitRecord:
    order = words.shop.order_by_id.get(order_id)
    return UnitRecord(
        unit_id=unit.unit_id,
        name=unit.name,
        customer=unit.customer,
        order=order_id,
        size=unit.size,
        due=words.time.text(order.due_at) if order else "",
        steps=unit,
        coats=tuple(_coat(words, work, measured.get(work.work_id, ())) for work in films),
    )


def _coat(words: WorkWords, work: Work, measured: tuple[Measured, ...]) -> Coat:
    known = {figure.name for report in measured for figure in report.figures}
    return Coat(
        step=words.step(work),
        when=f"{words.time.text(work.start)} to {words.time.clock(work.end)}",
        place=words.place(work),
        product=words.product(work.product_id) if work.product_id else "",
        amounts=words.how_much(work),
        film=", ".join(words.films(work)),
        packs=packs_words(work),
        readings=tuple(reading for reading in readings(words, work) if reading.name not in known),
        measured=measured,
        has_film_thickness="dft_um" in known,
    )
