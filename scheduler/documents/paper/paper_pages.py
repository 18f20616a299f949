"""Pages for paper: the sheet of a day, of each person, the pick list, and the record of each unit."""

from collections.abc import Iterable, Iterator
from typing import Any, Final

from scheduler.documents.cautions.cautions import RULE, cautions_for
from scheduler.documents.pages.pages import page
from scheduler.documents.sheets.crew_sheet import CrewSheet, crew_sheets
from scheduler.documents.sheets.day_sheet import DaySheet
from scheduler.documents.sheets.dew_point_table import dew_point_table
from scheduler.documents.sheets.unit_record import UnitRecord, unit_records
from scheduler.documents.store.pick import PickList
from scheduler.documents.words.local_time import long_day_text
from scheduler.documents.words.table import Table
from scheduler.documents.words.work_words import WorkWords

PAPERS: Final = (
    ("day-DATE.html", "day sheet"),
    ("crew-DATE.html", "a sheet for each person"),
    ("pick-DATE.html", "pick list"),
    ("day-DATE.csv", "day sheet as CSV"),
    ("pick-DATE.csv", "pick list as CSV"),
)
"""Files of a day beside the report, and what each is."""
_OF_THE_STORE: Final = ("isocyanates", "solvent", "cartridges")
MOST_RECORDS: Final = 20
"""Records in one file: the memory that a layout takes grows by some 5 MB with each."""


def day_page(words: WorkWords, sheet: DaySheet, picks: PickList | None = None) -> str:
    """The sheet of a day, with its pick list if that is given; on days with films the dew points stand on its back."""
    values = _common(words, sheet.day_text) | {"sheet": sheet, "picks": picks, "dew_points": _dew_points(words, sheet)}
    return page("day.html", "paper", **values)


def crew_page(words: WorkWords, sheet: DaySheet, people: Iterable[str] | None = None) -> str:
    """Sheets of a day for everybody who works on it, or for some.

    Parameters
    ----------
    words : WorkWords
    sheet : DaySheet
    people : iterable of str, optional
        Ids of those whose sheets are wanted.
    """
    wanted = None if people is None else set(people)
    sheets: list[CrewSheet] = [s for s in crew_sheets(words, sheet) if wanted is None or s.person_id in wanted]
    return page("crew.html", "paper", sheets=sheets, **_common(words, sheet.day_text))


def pick_page(words: WorkWords, picks: PickList) -> str:
    """The pick list of a day, with the cautions for those who carry and throw away what is on it."""
    works = words.by_day.begun.get(picks.day, ())
    cautions = [caution for caution in cautions_for(words.shop, works) if caution.name in _OF_THE_STORE]
    return page("pick.html", "paper", picks=picks, cautions=cautions, **_common(words, long_day_text(picks.day)))


def units_page(words: WorkWords, unit_ids: Iterable[str] | None = None) -> str:
    """Records of all units, or of some, each on a sheet of its own."""
    wanted = None if unit_ids is None else set(unit_ids)
    return _records_page(words, [record for record in unit_records(words) if wanted is None or record.unit_id in wanted])


def order_pages(words: WorkWords) -> Iterator[tuple[str, str]]:
    """Yield a name for each order and the records of its units; those of a large order in parts, ``+2`` and so on."""
    of_order: dict[str, list[UnitRecord]] = {}
    for record in unit_records(words):
        of_order.setdefault(record.order, []).append(record)
    for order, records in of_order.items():
        for part, start in enumerate(range(0, len(records), MOST_RECORDS), start=1):
            name = order if part == 1 else f"{order}+{part}"
            yield name, _records_page(words, records[start : start + MOST_RECORDS])


def _records_page(words: WorkWords, records: list[UnitRecord]) -> str:
    return page("units.html", "paper", records=records, **_common(words, "Unit records"))


def _common(words: WorkWords, title: str) -> dict[str, Any]:
    return {"title": title, "site": words.shop.site.name, "rule": RULE}


def _dew_points(words: WorkWords, sheet: DaySheet) -> Table | None:
    has_films = any(row.is_film for row in sheet.rows)
    return dew_point_table(words.units, words.shop.site.reads) if has_films else None
