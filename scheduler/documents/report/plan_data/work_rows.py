"""Work of a plan as rows of numbers."""

from collections.abc import Mapping

from scheduler.documents.charts.rows import Rows
from scheduler.documents.report.plan_data.axis import Axis
from scheduler.documents.report.plan_data.text_pool import TextPool
from scheduler.documents.sheets.limits import readings
from scheduler.documents.sheets.measured import FilmReadings, Measured
from scheduler.documents.words.packs_words import cartridge_cells
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Schedule, Work

DONE = 1
TYPICAL_WEATHER = 2
FIELDS = (
    "unit", "kind", "letter", "step", "row", "place", "spans", "people", "amounts", "product", "tools", "reason", "flags",
    "measure", "cartridges", "measured",
)  # fmt: skip
"""Cells of a row, in order. ``people`` holds pairs of person and skill; ``cartridges`` rows
of texts, ``measured`` a text for each report of readings."""


def people_of(words: WorkWords) -> dict[str, int]:
    """Crew in the order of the shop, then whoever the history names besides; each with its place in the list."""
    ids = [person.person_id for person in words.shop.crew]
    named = [a.person_id for work in words.schedule.work for a in work.people]
    return {person_id: place for place, person_id in enumerate(dict.fromkeys((*ids, *named)))}


def units_of(schedule: Schedule) -> dict[str, int]:
    """Units that have work, each with its place in the list: in the order in which work on them begins."""
    firsts = sorted(schedule.work, key=lambda work: (work.start, work.unit_id))
    return {unit_id: place for place, unit_id in enumerate(dict.fromkeys(work.unit_id for work in firsts))}


def work_rows(words: WorkWords, rows: Rows, axis: Axis, pool: TextPool) -> list[list[object]]:
    """Work in the order in which it starts, cells as in ``FIELDS``."""
    people, units, measured = people_of(words), units_of(words.schedule), FilmReadings(words).of_film
    order = sorted(words.schedule.work, key=lambda work: (work.start, work.work_id))
    return [[*_row(words, work, rows, axis, pool, people, units), _measured(measured, work, pool)] for work in order]


def _row(
    words: WorkWords, work: Work, rows: Rows, axis: Axis, pool: TextPool, people: dict[str, int], units: dict[str, int]
) -> list[object]:
    return [
        units[work.unit_id],
        work.step.value,
        pool(words.letter(work)),
        pool(words.step(work)),
        rows.row_of_work[work.work_id],
        pool(words.place(work)),
        [axis.span(span.start, span.end) for span in work.spans],
        [[people[a.person_id], pool(a.skill.replace("_", " "))] for a in work.people],
        pool(", ".join(words.how_much(work))),
        pool(words.product(work.product_id) if work.product_id else ""),
        pool(words.tools(work)),
        pool(work.reason),
        DONE * work.done + TYPICAL_WEATHER * work.typical_weather,
        pool("; ".join(f"{reading.what} {reading.must_be}" for reading in readings(words, work))),
        [[pool(cell) for cell in cartridge_cells(words, draw)] for draw in work.draws],
    ]


def _measured(of_film: Mapping[str, tuple[Measured, ...]], work: Work, pool: TextPool) -> list[int]:
    return [
        pool(
            f"{report.when}: "
            + "; ".join(" ".join((f.what, f.value, *(["(outside)"] if f.outside else []))) for f in report.figures)
        )
        for report in of_film.get(work.work_id, ())
    ]
