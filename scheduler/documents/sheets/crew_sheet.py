"""The sheet of one person for one day: their own work, with whom, and the cautions that go with it."""

from dataclasses import dataclass, replace

from scheduler.documents.cautions.cautions import Caution, cautions_for
from scheduler.documents.sheets.day_sheet import DaySheet, SheetRow
from scheduler.documents.words.work_words import WorkWords


@dataclass(frozen=True, slots=True)
class CrewSheet:
    """One person's day.

    Attributes
    ----------
    person_id, name : str
    hours : str
        From the start of their first work to the end of their last.
    rows : tuple of SheetRow
        Their work; ``people`` names the others on it.
    cautions : tuple of Caution
    """

    person_id: str
    name: str
    hours: str
    rows: tuple[SheetRow, ...]
    cautions: tuple[Caution, ...]


def crew_sheets(words: WorkWords, sheet: DaySheet) -> tuple[CrewSheet, ...]:
    """Sheets of everybody who works on the day, in the order of the crew's table."""
    ids = dict.fromkeys((*words.shop.person_by_id, *(a.person_id for row in sheet.rows for a in row.work.people)))
    made = ((person_id, [row for row in sheet.rows if _is_on(row, person_id)]) for person_id in ids)
    return tuple(_sheet(words, person_id, rows) for person_id, rows in made if rows)


def sheet_of_person(words: WorkWords, sheet: DaySheet, person_id: str) -> DaySheet:
    """The sheet of a day cut to one person: their work and cautions, no warmers."""
    own = next((crew for crew in crew_sheets(words, sheet) if crew.person_id == person_id), None)
    rows, cautions = (own.rows, own.cautions) if own else ((), ())
    return replace(sheet, rows=rows, cautions=cautions, to_load=(), to_take=())


def _sheet(words: WorkWords, person_id: str, rows: list[SheetRow]) -> CrewSheet:
    last = max(rows, key=lambda row: row.span.end)
    return CrewSheet(
        person_id=person_id,
        name=words.person(person_id),
        hours=f"{rows[0].starts} to {last.ends}",
        rows=tuple(_own(words, row, person_id) for row in rows),
        cautions=cautions_for(words.shop, [row.work for row in rows]),
    )


def _own(words: WorkWords, row: SheetRow, person_id: str) -> SheetRow:
    """The row as the person reads it: what they are there for first, then who is with them."""
    skills = ", ".join(a.skill.replace("_", " ") for a in row.work.people if a.person_id == person_id and a.skill)
    others = [f"with {words.assigned(a)}" for a in row.work.people if a.person_id != person_id]
    return replace(row, people=(f"you: {skills}" if skills else "you", *others))


def _is_on(row: SheetRow, person_id: str) -> bool:
    return any(a.person_id == person_id for a in row.work.people)
