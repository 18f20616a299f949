"""The report in a real headless Chromium: bars that can be seen, no error, no request, no sideways scrolling."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from documents.sample import sample_schedule, sample_shop
from scheduler.check.breach import CheckReport
from scheduler.documents.report import write_report

pytestmark = pytest.mark.browser
NASTY = ("<script>window.hit=1</script>", "<img src=x onerror=window.hit=1>", "\u05e9\u05dc\u05d5\u05dd <b>x</b>", "W" * 200)
VISIBLE = """
    () => [...document.querySelectorAll('#plan-chart .bars .point path')]
        .filter((bar) => { const box = bar.getBoundingClientRect(); return box.width > 1 && box.height > 4; }).length
"""
WIDE = {"width": 1280, "height": 900}
PHONE = {"width": 390, "height": 844}


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Browser]:
    """A Chromium without its own traffic."""
    with sync_playwright() as tools:
        running = tools.chromium.launch(
            executable_path=chromium, args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
        )
        yield running
        running.close()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A report of fourteen units with hostile names."""
    path = tmp_path_factory.mktemp("browser") / "run"
    write_report(sample_shop(NASTY, units=14), sample_schedule(14), CheckReport(()), path)
    return path


class Visit:
    """A page that is open, with what went wrong on it."""

    def __init__(self, browser: Browser, path: Path, size: dict[str, int]) -> None:
        self.page: Page = browser.new_page(viewport={"width": size["width"], "height": size["height"]})
        self.faults: list[str] = []
        self.page.on("console", lambda m: self.faults.append(m.text) if m.type in ("error", "warning") else None)
        self.page.on("pageerror", lambda fault: self.faults.append(str(fault)))
        self.page.on("dialog", lambda dialog: self.faults.append(dialog.message))
        self.page.on("request", lambda r: None if r.url.startswith(("file:", "data:")) else self.faults.append(r.url))
        self.page.goto(path.as_uri())


@pytest.mark.parametrize(("size", "fewest"), [(WIDE, 200), (PHONE, 25)], ids=["desk", "phone"])
def test_bars_are_really_drawn(browser: Browser, folder: Path, size: dict[str, int], fewest: int) -> None:
    """A week on a desk, a day on a phone, with boxes that have a size; nothing is logged, requested or run from a name."""
    visit = Visit(browser, folder / "index.html", size)
    visit.page.wait_for_selector("#plan-chart .bars .point path")
    assert visit.page.evaluate(VISIBLE) >= fewest
    assert visit.page.evaluate("window.hit") is None
    assert visit.faults == []
    visit.page.close()


@pytest.mark.parametrize("size", [WIDE, PHONE, {"width": 360, "height": 740}], ids=["desk", "phone", "small phone"])
@pytest.mark.parametrize("name", ["index.html", "day-2025-10-21.html", "pick-2025-10-21.html"])
def test_no_page_scrolls_sideways(browser: Browser, folder: Path, size: dict[str, int], name: str) -> None:
    """With everything unfolded and names of two hundred letters, only tables of their own scroll."""
    visit = Visit(browser, folder / name, size)
    visit.page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
    assert visit.page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    assert visit.faults == []
    visit.page.close()


def test_a_week_and_a_day_can_be_chosen(browser: Browser, folder: Path) -> None:
    """The second week shows other bars than the first, the whole plan more, a day fewer; the choice is told to the ears."""
    page = Visit(browser, folder / "index.html", WIDE).page
    first = page.evaluate(VISIBLE)
    page.get_by_role("button", name="Week of Mon 27 Oct").click()
    second = page.evaluate(VISIBLE)
    assert page.get_by_role("button", name="Week of Mon 27 Oct").get_attribute("aria-pressed") == "true"
    assert page.get_by_role("button", name="Week of Mon 20 Oct").get_attribute("aria-pressed") == "false"
    page.get_by_label("One day:").select_option(label="Mon 20 Oct")
    day = page.evaluate(VISIBLE)
    assert day < second < first
    assert page.locator("#plan-chart .bartext").filter(has_text="W").count() > 0
    page.close()


def test_a_chart_with_too_many_bars_is_only_shown_a_week_at_a_time(browser: Browser, tmp_path: Path) -> None:
    """Ninety units are more than 2,000 bars: there is no button for the whole plan, and a week stays below."""
    write_report(sample_shop(units=90), sample_schedule(90), CheckReport(()), tmp_path / "run")
    page = Visit(browser, tmp_path / "run" / "index.html", WIDE).page
    page.wait_for_selector("#plan-chart .bars .point path")
    assert page.get_by_role("button", name="Whole plan").count() == 0
    assert 100 < page.locator("#plan-chart .bars .point path").count() <= 2000
    assert page.locator("#plan-chart .bartext").count() <= 300
    page.close()


def test_the_keyboard_reaches_the_content_and_the_weeks(browser: Browser, folder: Path) -> None:
    """The first stop is the skip link, which shows itself; a week button works with the space bar."""
    page = Visit(browser, folder / "index.html", WIDE).page
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    assert page.evaluate("document.activeElement.getBoundingClientRect().left") >= 0
    page.get_by_role("button", name="Week of Mon 27 Oct").focus()
    page.keyboard.press("Space")
    assert page.get_by_role("button", name="Week of Mon 27 Oct").get_attribute("aria-pressed") == "true"
    page.close()


def test_stacked_tables_stay_tables_for_screen_readers(browser: Browser, folder: Path) -> None:
    """On a phone rows are laid out as blocks; the roles are still there."""
    page = Visit(browser, folder / "index.html", PHONE).page
    assert page.get_by_role("table", name="Orders by hand-over").get_by_role("row").count() == 8
    page.close()


def test_the_day_sheet_prints_on_a4(browser: Browser, tmp_path: Path) -> None:
    """A day of 22 rows with eight coats takes five pages of A4 (595 by 842 points) in Chromium's PDF, cautions included."""
    write_report(sample_shop(), sample_schedule(), CheckReport(()), tmp_path / "run")
    page = Visit(browser, tmp_path / "run" / "day-2025-10-21.html", WIDE).page
    pdf = page.pdf(prefer_css_page_size=True)
    assert b"/MediaBox [0 0 594.9" in pdf or b"/MediaBox [0 0 595" in pdf
    assert 3 <= len(re.findall(rb"/Type /Page\b", pdf)) <= 5
    page.close()
