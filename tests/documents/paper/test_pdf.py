"""Sheets as PDF: pages, text, tags, Unicode names; read back by a library that had no hand in making them."""

import io
import re
from datetime import timedelta

import pytest
from pypdf import PdfReader

from documents.sample import MONDAY, sample_schedule, sample_shop
from scheduler.check.breach import CheckReport
from scheduler.documents.charts.folded_time import HOUR_MS, folded_time
from scheduler.documents.charts.week_charts import week_charts
from scheduler.documents.paper import paper_pages as sheets
from scheduler.documents.paper.paper_files import Wanted, paper_pages
from scheduler.documents.paper.paper_pages import crew_page, day_page, pick_page, units_page
from scheduler.documents.paper.pdf import pdf_of
from scheduler.documents.paper.plan_page import plan_page
from scheduler.documents.sheets.day_sheet import day_sheet
from scheduler.documents.store.pick_list import pick_list
from scheduler.documents.words.work_words import WorkWords

pytest.importorskip("weasyprint", reason="the extra [pdf] is not installed", exc_type=ImportError)
NAMES = ("\u05e9\u05dc\u05d5\u05dd", "Łódź <b>Çeşme</b>", "</style><script>x</script>", "W" * 200)
WORDS = WorkWords(sample_shop(NAMES), sample_schedule())
TUESDAY = MONDAY + timedelta(days=1)


def read(html: str) -> PdfReader:
    """Make a PDF and open it again."""
    return PdfReader(io.BytesIO(pdf_of(html)))


def text_of(pdf: PdfReader) -> str:
    """All text, with single spaces."""
    return " ".join(" ".join(page.extract_text() for page in pdf.pages).split())


@pytest.fixture(scope="module")
def day() -> PdfReader:
    """Tuesday's sheet with its pick list."""
    return read(day_page(WORDS, day_sheet(WORDS, TUESDAY), pick_list(WORDS, TUESDAY)))


def test_a_busy_day_takes_few_pages_of_a4() -> None:
    """22 stretches with eight coats: at most five pages with dew points, cautions and the pick list, each numbered."""
    words = WorkWords(sample_shop(), sample_schedule())
    pages = read(day_page(words, day_sheet(words, TUESDAY), pick_list(words, TUESDAY))).pages
    assert 3 <= len(pages) <= 5
    for number, page in enumerate(pages, start=1):
        assert (round(float(page.mediabox.width)), round(float(page.mediabox.height))) == (595, 842)
        assert f"page {number} of {len(pages)}" in page.extract_text()


def test_the_sheet_says_what_is_done_with_what(day: PdfReader) -> None:
    """Steps, limits, names of cartridges, slots of the warmers, cautions and the pick list."""
    text = text_of(day)
    for part in ("Tuesday 21 Oct 2025, day sheet", "Coat 1", "steel above dew point", "recapped: O-1", "L-01#"):
        assert part in text, part
    for part in ("Take from the warmers today", "1 to 3", "Foreman, time", "sensitised", "pick list", "Static mixer"):
        assert part in text, part


def test_names_are_text_whatever_they_hold(day: PdfReader) -> None:
    """Letters of other scripts come back as they are, tags as text; the long name is whole."""
    text = text_of(day)
    assert "Łódź <b>Çeşme</b>" in text
    assert "</style><script>x</script>" in text.replace(" ", "").replace("\n", "")
    assert "\u05e9\u05dc\u05d5\u05dd" in text or "\u05dd\u05d5\u05dc\u05e9" in text
    assert "W" * 200 in text.replace(" ", "")


def test_the_pdf_is_tagged(day: PdfReader) -> None:
    """Marked, with a language, a title and a tree of heads, tables and cells (ISO 14289-1)."""
    root = day.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or str(root["/MarkInfo"]["/Marked"]).lower() == "true"
    assert root["/Lang"] == "en"
    assert "Tuesday 21 Oct 2025" in str(day.metadata.title if day.metadata else "")
    kinds = {str(node.get("/S")) for node in _tree(root["/StructTreeRoot"])}
    assert {"/H1", "/Table", "/TR", "/TH", "/TD"} <= kinds


def _tree(node: object) -> list[dict[str, object]]:
    """All nodes below one of the tree of tags."""
    resolved = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(resolved, list):
        return [found for child in resolved for found in _tree(child)]
    if not isinstance(resolved, dict):
        return []
    return [resolved, *(_tree(resolved["/K"]) if "/K" in resolved else [])]


def test_each_person_has_pages_of_their_own() -> None:
    """Four people, each from a new page that bears their name; one alone has one sheet."""
    sheet = day_sheet(WORDS, TUESDAY)
    pages = [page.extract_text() for page in read(crew_page(WORDS, sheet)).pages]
    assert sum("work from" in page for page in pages) == 4
    assert sum("work from" in page for page in (p.extract_text() for p in read(crew_page(WORDS, sheet, ["ana"])).pages)) == 1


def test_each_unit_has_a_record_from_a_new_page() -> None:
    """Two units, two records."""
    pages = [page.extract_text() for page in read(units_page(WORDS, ["U1", "U2"])).pages]
    assert sum("record" in page.splitlines()[0] for page in pages) >= 2
    assert sum("Handed over to" in page for page in pages) == 2


def test_the_pick_list_is_one_page_with_its_cautions_on_the_back() -> None:
    """Of the sample's Tuesday: who carries solvent and cartridges reads what to mind."""
    front, back = (page.extract_text() for page in read(pick_page(WORDS, pick_list(WORDS, TUESDAY))).pages)
    assert "Fetched by, time" in front
    assert "Read the cautions before work starts" in front
    for part in ("reminders only", "sensitised", "Solvent vapour", "Warm cartridges"):
        assert part in back, part
    assert "Lifting" not in back


def test_the_plan_has_a_picture_of_each_week_with_words_for_it() -> None:
    """A page of state and a landscape page with two pictures; each picture says in words what it shows."""
    pdf = read(plan_page(WORDS, CheckReport(())))
    wide = [page for page in pdf.pages if float(page.mediabox.width) > float(page.mediabox.height)]
    alts = [str(node["/Alt"]) for node in _tree(pdf.trailer["/Root"]["/StructTreeRoot"]) if "/Alt" in node]
    assert len(wide) == 1
    assert [alt.split(":")[0] for alt in alts] == ["Week of Mon 20 Oct by bay", "Week of Mon 20 Oct by person"]
    assert "3 orders with 6 units: 2 on time, 1 late." in text_of(pdf)


def test_pictures_are_inert() -> None:
    """No name becomes markup in a picture."""
    import base64

    for _, source in week_charts(WORDS)[0].pictures:
        drawing = base64.b64decode(source.partition("base64,")[2]).decode("utf-8")
        assert "<b>" not in drawing
        assert "<script>" not in drawing


def test_longer_closed_times_take_little_room() -> None:
    """A night of twelve hours is as wide as an hour and a quarter; time never runs backwards."""
    time = folded_time(0, 24 * HOUR_MS, [(6 * HOUR_MS, 18 * HOUR_MS), (20 * HOUR_MS, 21 * HOUR_MS)])
    places = [time.place(hour * HOUR_MS) for hour in range(25)]
    assert places == sorted(places)
    assert places[18] - places[6] == pytest.approx(1.25 * (places[1] - places[0]))
    assert places[21] - places[20] == pytest.approx(places[1] - places[0])
    assert (places[0], places[24]) == (0, 1)


def test_files_of_a_plan() -> None:
    """Overview and five days; people, and units order by order, where they are wanted."""
    plain = [name for name, _ in paper_pages(WORDS, CheckReport(()), Wanted())]
    whole = [name for name, _ in paper_pages(WORDS, CheckReport(()), Wanted(people=True, units=True))]
    orders = {f"units-{work.order_id}" for work in WORDS.schedule.work}
    assert plain == ["plan", *(f"day-2025-10-{day}" for day in range(20, 25))]
    assert set(whole) - set(plain) == {*orders, *(f"crew-2025-10-{day}" for day in range(20, 25))}


def test_records_of_a_large_order_come_in_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every unit has its record once, in a file of its order, and no file has more than it may."""
    monkeypatch.setattr(sheets, "MOST_RECORDS", 1)
    found = {name: re.findall(r'class="record" id="record-([^"]+)"', page) for name, page in sheets.order_pages(WORDS)}
    order_of = {work.unit_id: work.order_id for work in WORDS.schedule.work}
    assert any(name.endswith("+2") for name in found)
    assert {len(units) for units in found.values()} == {1}
    assert sorted(unit for units in found.values() for unit in units) == sorted(order_of)
    assert all(order_of[unit] == name.partition("+")[0] for name, units in found.items() for unit in units)
