"""Figures of the documents: reports of 120 and 400 units, how large, how long to write and to draw; sheets as PDF."""

import time
from pathlib import Path

import pytest
from documents.sample import MONDAY, sample_schedule, sample_shop
from playwright.sync_api import sync_playwright

from scheduler.check.breach import CheckReport
from scheduler.documents.paper.paper_pages import crew_page, day_page
from scheduler.documents.paper.pdf import pdf_of
from scheduler.documents.paper.plan_page import plan_page
from scheduler.documents.report.report import write_report
from scheduler.documents.sheets.day_sheet import day_sheet
from scheduler.documents.store.pick_list import pick_list
from scheduler.documents.words.work_words import WorkWords


@pytest.mark.parametrize("units", [40, 120, 400])
def test_report(units: int, tmp_path: Path, chromium: str) -> None:
    """Print size, seconds to write everything, and seconds from opening the page until its bars are there."""
    shop, schedule = sample_shop(units=units), sample_schedule(units)
    began, spent = time.perf_counter(), time.process_time()
    files = write_report(shop, schedule, CheckReport(()), tmp_path / "run")
    wrote, spent = time.perf_counter() - began, time.process_time() - spent
    drew = _draw(files[0], chromium)
    size = files[0].stat().st_size / 1e6
    print(f"\n{units} units: index.html {size:.2f} MB, {len(files)} files in {wrote:.1f} s ({spent:.1f} s of processor)")
    print(f"{units} units: drawn in {drew:.1f} s")


def _draw(page_file: Path, chromium: str) -> float:
    with sync_playwright() as tools:
        browser = tools.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        began = time.perf_counter()
        page.goto(page_file.as_uri())
        page.wait_for_selector("#plan-chart .bars .point path")
        drew = time.perf_counter() - began
        browser.close()
    return drew


def test_pdf() -> None:
    """Print seconds for a day with its pick list, for its people, and for the plan with a picture of each week."""
    words = WorkWords(sample_shop(), sample_schedule())
    tuesday = day_sheet(words, MONDAY.replace(day=21))
    pages = {
        "day sheet and pick list": day_page(words, tuesday, pick_list(words, tuesday.day)),
        "sheets of four people": crew_page(words, tuesday),
        "plan of 40 units": plan_page(WorkWords(sample_shop(units=40), sample_schedule(40)), CheckReport(())),
    }
    pdf_of(pages["day sheet and pick list"])  # loads the library and the fonts
    print()
    for name, page in pages.items():
        began, spent = time.perf_counter(), time.process_time()
        pdf = pdf_of(page)
        took, spent = time.perf_counter() - began, time.process_time() - spent
        print(f"{name}: {took:.1f} s ({spent:.1f} s of processor), {len(pdf) / 1e3:.0f} kB")
