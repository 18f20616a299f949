"""The sheet of a day in plain letters, eighty columns or more, for a terminal or a line printer."""

import textwrap
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Final

from scheduler.cli.talk import width
from scheduler.cli.text_table import text_table
from scheduler.documents.cautions.cautions import RULE
from scheduler.documents.sheets.day_sheet import DaySheet, SheetRow
from scheduler.documents.sheets.warmer_rows import WarmerRow
from scheduler.documents.store.pick import PickList
from scheduler.documents.words.local_time import long_day_text
from scheduler.documents.words.work_words import WorkWords

WIDEST: Final = 110
_WARMERS: Final = ("warmer", "slots", "cartridges", "load", "take out from", "for")


def day_text(words: WorkWords, sheet: DaySheet, picks: PickList, warning: str = "") -> str:
    """Write the whole sheet, with a warning on top if there is one."""
    lines = [f"{long_day_text(sheet.day)}, {words.shop.site.name}", *([warning] if warning else [])]
    if sheet.typical_weather:
        lines.append("Some of this rests on the weather of a typical year, not on a forecast; look at the weather first.")
    lines += list(_work(sheet)) if sheet.rows else ["", "No work on this day."]
    lines += _warmers("Load into the warmers", sheet.to_load) + _warmers("Take out of the warmers, one by one", sheet.to_take)
    lines += list(_picks(picks)) + list(_cautions(sheet))
    return "\n".join(lines)


def _work(sheet: DaySheet) -> Iterator[str]:
    for row in sheet.rows:
        yield ""
        yield f"{row.starts} to {row.ends}  {row.place}: {_step(row)}, {row.unit} ({row.customer})"
        yield from _wrapped(", ".join(row.people) or "people not recorded")
        yield from _wrapped("; ".join(part for part in (row.product, *row.how_much, ", ".join(row.packs), row.tools) if part))
        yield from _wrapped("; ".join(f"{r.what} {r.must_be}" for r in row.readings), "measure first: ")


def _step(row: SheetRow) -> str:
    marks = (row.part, "done" if row.work.done else "", "typical weather" if row.work.typical_weather else "")
    return " ".join([row.step, *(f"[{mark}]" for mark in marks if mark)])


def _warmers(caption: str, rows: Iterable[WarmerRow]) -> list[str]:
    cells = [(r.warmer, r.slots, f"{r.cartridges}: {r.packs}", r.loaded, r.used, r.for_step) for r in rows]
    return ["", f"{caption}:", text_table(_WARMERS, cells)] if cells else []


def _picks(picks: PickList) -> Iterator[str]:
    for group, rows in groupby(picks.picks, key=lambda pick: pick.group):
        yield ""
        yield f"Store: {group}"
        for pick in rows:
            beside = ", ".join(part for part in (pick.source, pick.note) if part)
            yield from _wrapped(f"{pick.shown} {pick.item}" + (f" ({beside})" if beside else ""))


def _cautions(sheet: DaySheet) -> Iterator[str]:
    if not sheet.cautions:
        return
    yield ""
    yield "Cautions"
    yield from _wrapped(RULE)
    for caution in sheet.cautions:
        yield from _wrapped(f"{caution.title}: {' '.join(caution.lines)}")


def _wrapped(text: str, head: str = "") -> list[str]:
    """Indented lines; what is below the first line of a paragraph is indented more."""
    room = min(width(), WIDEST)
    return textwrap.wrap(f"{head}{text}", room, initial_indent="    ", subsequent_indent="      ") if text else []
