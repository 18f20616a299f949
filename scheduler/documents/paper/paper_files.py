"""A plan on paper as PDF files: overview, day sheets with pick lists, sheets of each person, records of units."""

import os
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from typing import Final

from scheduler.check.breach import CheckReport
from scheduler.documents.paper.paper_pages import crew_page, day_page, order_pages
from scheduler.documents.paper.pdf import pdf_of
from scheduler.documents.paper.plan_page import plan_page
from scheduler.documents.sheets.day_sheet import day_sheets
from scheduler.documents.store.pick_list import pick_list
from scheduler.documents.words.work_words import WorkWords

_FEW: Final = 4
"""Pages that one process lays out sooner than others start."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be printed besides the overview and the day sheets."""

    people: bool = False
    units: bool = False


def paper_pages(words: WorkWords, report: CheckReport, wanted: Wanted) -> Iterator[tuple[str, str]]:
    """Yield names of files, without their end, and pages."""
    yield "plan", plan_page(words, report)
    for sheet in day_sheets(words):
        yield f"day-{sheet.day}", day_page(words, sheet, pick_list(words, sheet.day))
        if wanted.people:
            yield f"crew-{sheet.day}", crew_page(words, sheet)
    if wanted.units:
        yield from ((f"units-{name}", page) for name, page in order_pages(words))


def paper_files(words: WorkWords, report: CheckReport, wanted: Wanted) -> Iterator[tuple[str, bytes]]:
    """Yield names and contents of the PDF files, in order; many are laid out by several processes.

    Raises
    ------
    PdfMissingError
        If no PDF can be made here.
    """
    pages = list(paper_pages(words, report, wanted))
    names, texts = [f"{name}.pdf" for name, _ in pages], [text for _, text in pages]
    if len(pages) <= _FEW:
        yield from zip(names, map(pdf_of, texts), strict=True)
        return
    with ProcessPoolExecutor(min(os.cpu_count() or 1, len(pages)), get_context("spawn")) as pool:
        longest_first = sorted(texts, key=len, reverse=True)  # a long one begun last would be waited for by all others
        under_way = {text: pool.submit(pdf_of, text) for text in longest_first}
        yield from ((name, under_way[text].result()) for name, text in zip(names, texts, strict=True))
