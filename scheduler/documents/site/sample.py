"""Make the rendered sample of a report: ``python -m scheduler.documents.site.sample RUN_DIR SHOP_DIR TO_DIR CHOICES``.

Takes pictures of the report as a headless Chromium shows it, and lays sheets out as PDF; needs the extras ``dev`` and ``pdf``.
"""

import io
import sys
from collections.abc import Iterator
from pathlib import Path
from shutil import which
from typing import TYPE_CHECKING, Final

from scheduler.documents.paper.paper_pages import crew_page, day_page, units_page
from scheduler.documents.paper.pdf import pdf_of
from scheduler.documents.sheets.day_sheet import day_sheet
from scheduler.documents.store.pick_list import pick_list
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.store import read_schedule
from scheduler.shop.read import read_shop

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

DESK: Final = (1280, 900)
PHONE: Final = (390, 844)
SIDE_BY_SIDE: Final = (1280, 1120)
A4: Final = (794, 1123)
COLOURS: Final = 64
"""Enough for flat colours; a picture is a third as large."""


def sample(run: Path, shop_folder: Path, to: Path, choices: Path) -> None:
    """Write pictures and PDF files of a run, and a picture of the page of choices of a re-plan."""
    to.mkdir(parents=True, exist_ok=True)
    words = WorkWords(read_shop(shop_folder), read_schedule(run / "schedule.json"))
    for name, content in (*_papers(words), *_pictures(run, _busiest(words), choices)):
        (to / name).write_bytes(content)


def _busiest(words: WorkWords) -> str:
    """Day with the most stretches of work, of those that rest on the forecast if there are any."""
    days = {day: words.by_day.spans.get(day, []) for day in words.by_day.days}
    known = {day: spans for day, spans in days.items() if not any(work.typical_weather for work, _ in spans)} or days
    return max(known, key=lambda day: (len(known[day]), -day.toordinal())).isoformat()


def _papers(words: WorkWords) -> Iterator[tuple[str, bytes]]:
    sheet = day_sheet(words, next(day for day in words.by_day.days if day.isoformat() == _busiest(words)))
    who, unit = next((row.work.people[0].person_id, row.work.unit_id) for row in sheet.rows if row.is_film)
    yield "day-sheet.pdf", pdf_of(day_page(words, sheet, pick_list(words, sheet.day)))
    yield "person-sheet.pdf", pdf_of(crew_page(words, sheet, [who]))
    yield "unit-record.pdf", pdf_of(units_page(words, [unit]))


def _pictures(run: Path, day: str, choices: Path) -> Iterator[tuple[str, bytes]]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as tools:
        browser = tools.chromium.launch(executable_path=which("chromium"), args=["--no-sandbox", "--disable-gpu"])
        report = (run / "index.html").absolute().as_uri()
        yield "state.png", _small(_open(browser, report, DESK).screenshot())
        yield "gantt.png", _small(_chart(browser, report, "By bay"))
        yield "crew.png", _small(_chart(browser, report, "By person"))
        yield "unit.png", _small(_unit(browser, report))
        yield "phone.png", _small(_on_phone(browser, report))
        sheet = _open(browser, (run / f"day-{day}.html").absolute().as_uri(), A4)
        sheet.emulate_media(media="print")
        sheet.evaluate("document.body.style.padding = '40px'")  # the margin of the paper
        yield "day-sheet.png", _small(sheet.screenshot())
        yield "choices.png", _small(_open(browser, choices.absolute().as_uri(), SIDE_BY_SIDE).screenshot())
        browser.close()


def _open(browser: "Browser", address: str, size: tuple[int, int]) -> "Page":
    page = browser.new_page(viewport={"width": size[0], "height": size[1]})
    page.goto(address)
    return page


def _chart(browser: "Browser", report: str, rows: str) -> bytes:
    page = _open(browser, report, DESK)
    page.get_by_role("button", name=rows).click()
    page.evaluate("document.getElementById('chart-tables').hidden = true")
    return page.locator("section[aria-labelledby=charts]").screenshot()


def _unit(browser: "Browser", report: str) -> bytes:
    page = _open(browser, report, DESK)
    page.locator("#unit-list a").first.click()
    page.wait_for_selector("#unit[open]")
    return page.screenshot()


def _on_phone(browser: "Browser", report: str) -> bytes:
    page = _open(browser, report, PHONE)
    page.locator("#views").evaluate("box => box.scrollIntoView()")
    return page.screenshot()


def _small(picture: bytes) -> bytes:
    from PIL import Image

    out = io.BytesIO()
    Image.open(io.BytesIO(picture)).convert("RGB").quantize(COLOURS).save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    sample(*(Path(place) for place in sys.argv[1:5]))
