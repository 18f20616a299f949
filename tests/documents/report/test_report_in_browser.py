"""The report in a real headless Chromium: bars that can be seen, no error, no request, no barrier, no sideways scrolling."""

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect, sync_playwright

from documents.sample import sample_schedule, sample_shop
from scheduler.check.breach import CheckReport
from scheduler.documents.report.report import write_report

pytestmark = pytest.mark.browser
NASTY = (
    "<script>window.hit=1</script>",
    "<img src=x onerror=window.hit=1>",
    "\u05e9\u05dc\u05d5\u05dd <b>x</b>",
    "W" * 200,
    "x=1+1 \"quoted\" 'name'",
    "</script><svg onload=window.hit=1>",
)
VISIBLE = """
    () => [...document.querySelectorAll('#plan-chart .bars .point path')]
        .filter((bar) => { const box = bar.getBoundingClientRect(); return box.width > 1 && box.height > 4; }).length
"""
MARKED = """
    () => {
        const sides = (box) => [box.left, box.top, box.right, box.bottom];
        const mark = sides(document.activeElement.getBoundingClientRect());
        return [...document.querySelectorAll('#plan-chart .bars .point path')].map((bar) => sides(bar.getBoundingClientRect()))
            .some((bar) => bar.every((side, i) => Math.abs(side - mark[i]) < 2));
    }
"""
UNFOLD = "document.querySelectorAll('details').forEach((part) => { part.open = true; })"
WIDE = {"width": 1280, "height": 900}
PHONE = {"width": 390, "height": 844}
SMALL = {"width": 360, "height": 740}
PAGES = ("index.html", "day-2025-10-21.html", "crew-2025-10-21.html", "pick-2025-10-21.html", "units.html")


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
    return _report(tmp_path_factory.mktemp("browser") / "run", 14)


@pytest.fixture(scope="module")
def small_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with four units: every kind of row and mark is there, and a tool that looks at each is done in seconds."""
    return _report(tmp_path_factory.mktemp("browser") / "run", 4)


def _report(path: Path, units: int) -> Path:
    plan = sample_schedule(units)
    late = plan.deliveries[0].model_copy(update={"delivered_at": plan.deliveries[0].delivered_at + timedelta(days=1)})
    earlier = plan.model_copy(update={"deliveries": (late, *plan.deliveries[1:])})
    write_report(sample_shop(NASTY, units=units), plan, CheckReport(()), path, earlier)
    return path


class Visit:
    """A page that is open, with what went wrong on it."""

    def __init__(self, browser: Browser, path: Path, size: dict[str, int], now: str = "") -> None:
        self.page: Page = browser.new_page(viewport={"width": size["width"], "height": size["height"]})
        self.faults: list[str] = []
        self.page.on("console", lambda m: self.faults.append(m.text) if m.type in ("error", "warning") else None)
        self.page.on("pageerror", lambda fault: self.faults.append(str(fault)))
        self.page.on("dialog", lambda dialog: self.faults.append(dialog.message))
        self.page.on("request", lambda r: None if r.url.startswith(("file:", "data:")) else self.faults.append(r.url))
        if now:
            self.page.clock.set_fixed_time(now)
        self.page.goto(path.as_uri())

    def comes_true(self, says: str) -> None:
        """Ask the page again until an expression holds, for at most ten seconds: what it draws may come after a key or click."""
        for _ in range(200):
            if self.page.evaluate(says):
                return
            self.page.wait_for_timeout(50)
        pytest.fail(f"never true: {says}")

    def done(self) -> None:
        """Close the page; nothing was logged, requested or run from a name."""
        assert self.page.evaluate("window.hit") is None
        assert self.faults == []
        self.page.close()


@pytest.mark.parametrize(("size", "fewest"), [(WIDE, 150), (PHONE, 20), (SMALL, 20)], ids=["desk", "phone", "small phone"])
@pytest.mark.parametrize("rows", ["By bay", "By person"])
def test_bars_are_really_drawn(browser: Browser, folder: Path, size: dict[str, int], fewest: int, rows: str) -> None:
    """A week on a desk, a day on a phone, with boxes that have a size, by bay and by person."""
    visit = Visit(browser, folder / "index.html", size)
    visit.page.get_by_role("button", name=rows).click()
    visit.comes_true(f"({VISIBLE})() >= {fewest}")
    visit.done()


def test_loads_are_really_drawn_under_the_bars(browser: Browser, folder: Path) -> None:
    """Four areas with their limits, each of some height, all on the width of the bars above."""
    visit = Visit(browser, folder / "index.html", WIDE)
    expect(visit.page.locator("#plan-chart .scatterlayer path.js-line")).to_have_count(8)
    boxes = visit.page.evaluate(
        "[...document.querySelectorAll('#plan-chart .scatterlayer path.js-line')].map((l) => l.getBoundingClientRect().toJSON())"
    )
    assert sum(box["height"] > 10 for box in boxes) >= 6
    assert all(box["width"] > 800 for box in boxes)
    visit.done()


@pytest.mark.parametrize("size", [WIDE, PHONE, SMALL], ids=["desk", "phone", "small phone"])
@pytest.mark.parametrize("name", PAGES)
def test_no_page_scrolls_sideways(browser: Browser, folder: Path, size: dict[str, int], name: str) -> None:
    """With everything unfolded and names of two hundred letters, only tables of their own scroll."""
    visit = Visit(browser, folder / name, size)
    visit.page.evaluate(UNFOLD)
    assert visit.page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    visit.done()


@pytest.mark.parametrize("size", [WIDE, SMALL], ids=["desk", "small phone"])
@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_no_barrier(browser: Browser, small_folder: Path, size: dict[str, int], name: str) -> None:
    """axe-core, with everything unfolded; on the report also with the page of a unit open."""
    visit = Visit(browser, small_folder / name, size)
    visit.page.evaluate(UNFOLD)
    assert Axe().run(visit.page).response["violations"] == []
    if name == "index.html":
        visit.page.evaluate("window.location.hash = '#unit/U1'")
        visit.page.wait_for_selector("#unit[open]")
        of_the_unit = Axe().run(visit.page, context="#unit").response
        assert of_the_unit["violations"] == []
        assert len(of_the_unit["passes"]) > 5
    visit.done()


def test_a_week_and_a_day_can_be_chosen(browser: Browser, folder: Path) -> None:
    """The second week shows other bars than the first, a day fewer; what is shown is told to the ears."""
    visit = Visit(browser, folder / "index.html", WIDE)
    page = visit.page
    visit.comes_true(f"({VISIBLE})() > 0")
    first = page.evaluate(VISIBLE)
    page.get_by_role("button", name="Later").click()
    expect(page.locator("#chart-says")).to_contain_text("Week of Mon 27 Oct")
    visit.comes_true(f"({VISIBLE})() < {first}")
    second = page.evaluate(VISIBLE)
    page.get_by_label("Stretch of time").select_option(label="Mon 20 Oct")
    visit.comes_true(f"({VISIBLE})() < {second}")
    expect(page.locator("#plan-chart .bartext").filter(has_text="W").first).to_be_attached()
    visit.done()


def test_today_is_shown_and_marked(browser: Browser, folder: Path) -> None:
    """On Tuesday of the second week the report opens in that week; a line stands at now, and the button leads back."""
    visit = Visit(browser, folder / "index.html", WIDE, "2025-10-28T09:00:00+01:00")
    page = visit.page
    expect(page.locator("#chart-says")).to_contain_text("Week of Mon 27 Oct")
    expect(page.locator("#plan-chart .shapelayer path[style*='dasharray']").first).to_be_attached()
    page.get_by_role("button", name="Earlier").click()
    page.get_by_role("button", name="Today").click()
    expect(page.locator("#chart-says")).to_contain_text("Week of Mon 27 Oct")
    visit.done()


def test_nights_can_have_their_full_width(browser: Browser, folder: Path) -> None:
    """With narrow nights a bar of work is wider than without."""
    visit = Visit(browser, folder / "index.html", WIDE)
    share = "(() => { const c = document.getElementById('plan-chart'); const wash = c.data.find((t) => t.meta === 'wash');"
    share += " return wash.x[0] / c.layout.xaxis.range[1]; })()"
    visit.comes_true(f"{share} > 0")
    narrow = visit.page.evaluate(share)
    visit.page.get_by_label("narrow nights").uncheck()
    visit.comes_true(f"{share} < {narrow / 1.5}")
    visit.done()


def test_a_click_on_a_bar_opens_the_page_of_its_unit(browser: Browser, folder: Path) -> None:
    """With steps, reasons and coats; Escape goes back, and the address is as before."""
    visit = Visit(browser, folder / "index.html", WIDE)
    page = visit.page
    bars = page.locator("#plan-chart .bars .point path")
    expect(bars.nth(79)).to_be_attached()
    wide = max(range(bars.count()), key=lambda i: (bars.nth(i).bounding_box() or {"width": 0})["width"] if i < 80 else 0)
    box = bars.nth(wide).bounding_box()
    assert box is not None
    page.locator("#plan-chart").scroll_into_view_if_needed()
    box = bars.nth(wide).bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    expect(page.locator("#unit[open]")).to_contain_text("asked for by the coating system")
    expect(page.locator("#unit[open]")).to_contain_text("Elastomer coat")
    page.keyboard.press("Escape")
    expect(page.locator("#unit[open]")).to_have_count(0)
    expect(page).not_to_have_url(re.compile("#unit"))
    visit.done()


def test_tables_say_what_the_chart_shows(browser: Browser, folder: Path) -> None:
    """As many rows of work as bars of work; as many of stays as bars of stays; loads by the hour with their limits."""
    visit = Visit(browser, folder / "index.html", WIDE)
    page = visit.page
    page.evaluate(UNFOLD)
    page.wait_for_selector("#plan-chart .bars .point path")
    drawn = page.evaluate(
        "document.getElementById('plan-chart').data.filter((t) => t.type === 'bar')"
        ".reduce((sum, t) => ({...sum, [t.meta]: t.x.length}), {})"
    )
    work = sum(count for kind, count in drawn.items() if kind not in ("stay", "weather", "shut"))
    assert work > 0
    expect(page.locator("#work-table tbody tr")).to_have_count(work)
    expect(page.locator("#stay-table tbody tr")).to_have_count(drawn["stay"])
    expect(page.locator("#shut-table table").first.locator("tbody tr")).to_have_count(drawn["weather"] + drawn["shut"])
    expect(page.locator("#load-table tbody tr").filter(has_text="Mon 20 Oct 15:00")).to_contain_text("12 of 24")
    visit.done()


def test_a_chart_with_too_many_bars_is_only_shown_a_week_at_a_time(browser: Browser, tmp_path: Path) -> None:
    """A hundred and twenty units are more than 2,000 bars: the whole plan cannot be chosen, and a week stays below."""
    write_report(sample_shop(units=120), sample_schedule(120), CheckReport(()), tmp_path / "run")
    visit = Visit(browser, tmp_path / "run" / "index.html", WIDE)
    expect(visit.page.locator("#plan-chart .bars .point path").nth(100)).to_be_attached()
    assert "whole plan" not in visit.page.get_by_label("Stretch of time").inner_text()
    assert 100 < visit.page.locator("#plan-chart .bars .point path").count() <= 2000
    assert visit.page.locator("#plan-chart .bartext").count() <= 300
    visit.done()


def test_the_keyboard_reaches_everything(browser: Browser, folder: Path) -> None:
    """Tab alone gets to the skip link first, which shows itself, then to the rows, the weeks, the tables, a day and a unit.

    A unit opens with Enter from its link, its page takes the focus and gives it back to the link.
    """
    visit = Visit(browser, folder / "index.html", WIDE)
    page = visit.page
    seen: list[str] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        seen.append(page.evaluate("document.activeElement.textContent.trim().slice(0, 40) || document.activeElement.id"))
        if len(seen) == 1:
            assert page.evaluate("document.activeElement.getBoundingClientRect().left") >= 0
    assert seen[0] == "Skip to the content"
    for stop in ("By person", "Later", "folded", "Work in the chart, as a table"):
        assert stop in seen, stop
    assert any(stop.startswith("Monday 20 Oct 2025") for stop in seen)
    link = page.locator("#unit-list a").first
    link.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#unit[open] #unit-title")).to_be_focused()
    page.keyboard.press("Escape")
    expect(link).to_be_focused()
    visit.done()


def test_bars_are_walked_by_arrow_keys(browser: Browser, folder: Path) -> None:
    """Tab gets from the last control to the first bar; arrows lead from bar to bar and row to row and show what the mouse shows.

    The mark lies over a bar that is drawn, Page Down goes to later bars, and Enter opens the unit and gives the focus back.
    """
    visit = Visit(browser, folder / "index.html", WIDE)
    page = visit.page
    page.locator("#folded").focus()
    page.keyboard.press("Tab")
    mark = page.locator("#bar-walk :focus")
    for key, expected in (("ArrowRight", "Move in"), ("ArrowDown", "place 2"), ("End", "Move out"), ("Home", "In the bay")):
        page.keyboard.press(key)
        expect(mark).to_have_attribute("aria-label", re.compile(re.escape(expected)))
        label = mark.get_attribute("aria-label") or ""
        expect(page.locator("#plan-chart .hoverlayer .hovertext")).to_have_text(re.compile(f"^{re.escape(label[:6])}"))
        visit.comes_true(f"({MARKED})()")
    page.keyboard.press("PageDown")
    expect(page.locator("#chart-says")).to_contain_text("Week of Mon 27 Oct")
    expect(mark).to_have_attribute("aria-label", re.compile("."))
    label = mark.get_attribute("aria-label") or ""
    page.keyboard.press("Enter")
    page.wait_for_selector("#unit[open]")
    page.keyboard.press("Escape")
    expect(mark).to_have_attribute("aria-label", label)
    visit.done()


def test_a_unit_is_found_by_its_order(browser: Browser, folder: Path) -> None:
    """Two units of the order are left of fourteen, and the count is told."""
    visit = Visit(browser, folder / "index.html", WIDE)
    expect(visit.page.locator("#unit-list tbody tr:visible")).to_have_count(14)
    visit.page.get_by_label("Find a unit").fill("o7 ")
    expect(visit.page.get_by_role("status").filter(has_text="of 14 units")).to_have_text("2 of 14 units")
    expect(visit.page.locator("#unit-list tbody tr:visible")).to_have_count(2)
    visit.done()


def test_a_day_holds_work_warmers_picks_and_cautions(browser: Browser, folder: Path) -> None:
    """Monday evening loads the warmers; each caution leads to its text."""
    visit = Visit(browser, folder / "index.html", PHONE)
    visit.page.locator("#day-2025-10-20 summary").click()
    day = visit.page.locator("#day-2025-10-20")
    expect(day).to_contain_text("Load into the warmers on this day")
    expect(day).to_contain_text("Store")
    expect(day.locator("a[href='#caution-lifting']")).to_have_count(1)
    visit.done()


def test_without_scripts_the_page_leads_to_the_sheets(browser: Browser, folder: Path) -> None:
    """The state of the plan is there, and the pages beside it are named."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((folder / "index.html").as_uri())
    assert page.get_by_role("table", name="Orders by hand-over").count() == 1
    assert "need scripts" in page.locator("noscript").inner_text()
    context.close()


def test_stacked_tables_stay_tables_for_screen_readers(browser: Browser, folder: Path) -> None:
    """On a phone rows are laid out as blocks; the roles are still there."""
    visit = Visit(browser, folder / "index.html", PHONE)
    expect(visit.page.get_by_role("table", name="Orders by hand-over").get_by_role("row")).to_have_count(8)
    visit.done()


def test_the_day_sheet_prints_on_a4(browser: Browser, tmp_path: Path) -> None:
    """A day of 22 rows with eight coats takes at most four pages of A4 (595 by 842 points) in Chromium's PDF."""
    write_report(sample_shop(), sample_schedule(), CheckReport(()), tmp_path / "run")
    page = Visit(browser, tmp_path / "run" / "day-2025-10-21.html", WIDE).page
    pdf = page.pdf(prefer_css_page_size=True)
    assert b"/MediaBox [0 0 594.9" in pdf or b"/MediaBox [0 0 595" in pdf
    assert 2 <= len(re.findall(rb"/Type /Page\b", pdf)) <= 4
    page.close()
