"""Faults of a workbook in its own words: sheets, where a folder has files."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from scheduler.shop.faults import Fault
from scheduler.shop.tables import PACKAGE_FILE, SITE_FILE, TYPICAL_YEAR

SITE_SHEET: Final = "site"
_FILE: Final = re.compile(r"\b([A-Za-z0-9][A-Za-z0-9_.\-]*)\.csv\b")
_WORDS: Final = (
    (f"look at the list in {PACKAGE_FILE}", "look at the note of the column's head"),
    (SITE_FILE, f"sheet {SITE_SHEET}"),
    ("there is no such file", "there is no such sheet"),
    ("names this file", "names this sheet"),
    ("add the file", "add the sheet"),
    ("add a line", "add a row"),
)


def said_of_sheets(workbook: str, faults: Iterable[Fault], typical_year: str) -> Iterator[Fault]:
    """Move faults from the files of a folder to the sheets of a workbook.

    Parameters
    ----------
    workbook : str
        Name of its file.
    faults : iterable of Fault
        With the names that the files of a folder would have.
    typical_year : str
        File that the settings name for the typical year; empty for none.
    """
    for fault in faults:
        sheet = sheet_of(fault.file, typical_year)
        problem, cure = (_in_sheets(text, typical_year) for text in (fault.problem, fault.cure))
        yield replace(fault, file=workbook, sheet=sheet, problem=problem, cure=cure)


def sheet_of(file: str, typical_year: str = "") -> str:
    """Return the sheet that stands for a file."""
    if file == SITE_FILE:
        return SITE_SHEET
    return TYPICAL_YEAR if file == typical_year else file.removesuffix(".csv")


def _in_sheets(text: str, typical_year: str) -> str:
    if "such as typical_year.csv" in text:  # of the one setting that is the name of a file
        return text
    for file_words, sheet_words in _WORDS:
        text = text.replace(file_words, sheet_words)
    return _FILE.sub(lambda found: f"sheet {sheet_of(found[0], typical_year)}", text)
