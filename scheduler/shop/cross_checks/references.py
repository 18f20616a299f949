"""Ids that no row of the table they point to has."""

from collections.abc import Iterable, Iterator

from scheduler.shop.calendar import Closure, Shut
from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault, choose
from scheduler.shop.fields import is_id
from scheduler.shop.fixed import Done
from scheduler.shop.tables import TABLES, Refers

_CLOSABLE = {Shut.BAY: ("bays", "bay_id"), Shut.PERSON: ("crew", "person_id"), Shut.EQUIPMENT: ("equipment", "equipment_id")}


def unknown_ids(draft: Draft) -> Iterator[Fault]:
    """Report every cell that names a row which is not there; a table that cannot be read knows no unknown ids."""
    for table in TABLES.values():
        for refers in table.refers:
            if draft.listed(refers.table):
                yield from _unknown(draft, table.name, refers)


def unknown_things(draft: Draft) -> Iterator[Fault]:
    """Closures of things that are not there, and people of done steps who are not in the crew."""
    for line, closure in draft.rows("closures", Closure):
        yield from _closure(draft, line, closure)
    known = draft.column("crew", "person_id")
    for line, done in draft.rows("done", Done):
        for person in done.people:
            if person not in known and draft.listed("crew"):
                yield _fault(draft, ("done", line, "people", person), known, "crew")


def _unknown(draft: Draft, table: str, refers: Refers) -> Iterator[Fault]:
    known = draft.column(refers.table, refers.there)
    for raw in draft.tables[table].raw:
        value = raw.cells.get(refers.column, "").strip()
        if is_id(value) and value not in known:
            yield _fault(draft, (table, raw.line, refers.column, value), known, refers.table)


def _closure(draft: Draft, line: int, closure: Closure) -> Iterator[Fault]:
    place = ("closures", line, "which", closure.which)
    if closure.what is Shut.SITE:
        if closure.which:
            yield draft.fault(*place, "a closure of the site names something else", "leave it empty, or change the column what")
        return
    table, column = _CLOSABLE[closure.what]
    known = draft.column(table, column)
    if closure.which not in known and draft.listed(table):
        yield _fault(draft, place, known, table)


def _fault(draft: Draft, place: tuple[str, int, str, str], known: Iterable[str], target: str) -> Fault:
    file = draft.tables[target].file
    return draft.fault(*place, f"not in {file}", choose(place[3], known, f"add it to {file}"))
