"""The plan's workbook, looked at with a library that had no hand in writing it."""

import io
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from openpyxl import load_workbook

from documents.sample import sample_schedule, sample_shop
from scheduler.check.breach import CheckReport
from scheduler.check.check import check_schedule
from scheduler.documents.plan_book.plan_book import plan_book
from scheduler.documents.plan_book.sheet import moment
from scheduler.documents.words.work_words import WorkWords
from scheduler.rules import RULES
from scheduler.schedule.schedule import Schedule

HOUR = timedelta(hours=1)


def book_of(words: WorkWords, earlier: Schedule | None = None, report: CheckReport | None = None) -> Any:
    """The workbook as it is opened."""
    made = plan_book(words, report or check_schedule(words.shop, words.schedule), earlier)
    return load_workbook(io.BytesIO(made))


def rows_of(book: Any, sheet: str) -> list[dict[str, Any]]:
    """Rows by the names of their columns."""
    head, *rows = book[sheet].iter_rows(values_only=True)
    return [dict(zip(head, row, strict=True)) for row in rows]


@pytest.fixture(scope="module")
def words() -> WorkWords:
    """The sample."""
    return WorkWords(sample_shop(), sample_schedule())


def test_everything_of_the_schedule_is_in_it(words: WorkWords) -> None:
    """Prove that every stretch, unit, order, rule and goal has its row, with real dates on the site's clock."""
    book = book_of(words)
    assert book.sheetnames == ["state", "dates", "units", "work", "packs", "pick", "goals", "rules"]
    stretches = sorted(s.start.astimezone(words.time.tz).replace(tzinfo=None) for w in words.schedule.work for s in w.spans)
    assert [row["starts_at"] for row in rows_of(book, "work")] == stretches
    assert {row["unit_id"] for row in rows_of(book, "units")} == {u for d in words.schedule.deliveries for u in d.units}
    assert [row["rule"] for row in rows_of(book, "rules")] == list(RULES)
    assert len(rows_of(book, "goals")) == len(words.schedule.goals)
    assert sum(row["packs"] or 0 for row in rows_of(book, "work")) >= sum(w.packs for w in words.schedule.work)
    packs = [(w.work_id, d.cartridge_id, d.left_ml) for w in words.schedule.work for d in w.draws]
    written = [(f"{row['unit_id']}/{row['name']}", row["cartridge_id"], row["left_ml"]) for row in rows_of(book, "packs")]
    assert sorted(written) == sorted(packs)
    assert packs
    assert {row["what"] for row in rows_of(book, "state")} >= {"site", "state", "caution", "Status"}


def test_every_head_has_a_note_and_words_have_lists(words: WorkWords) -> None:
    """Prove that a column says what it means, and that the step and the flags are chosen from lists."""
    book = book_of(words)
    for sheet in book:
        assert all(cell.comment is not None and cell.comment.text for cell in sheet[1])
    lists = {rule.formula1 for rule in book["work"].data_validations.dataValidation}
    assert any("receive,move_in" in formula for formula in lists)
    assert '"yes,no"' in lists


def test_what_changed_against_the_plan_before(words: WorkWords) -> None:
    """Prove what is moved, new and gone, that what is done is no change, and that hand-overs come first."""
    work = {w.work_id: w for w in words.schedule.work}
    moved, gone, new, *_ = [w for w in work.values() if not w.done]
    before = [w for w in work.values() if w.work_id not in {moved.work_id, new.work_id}]
    spans = tuple(s.model_copy(update={"start": s.start - HOUR, "end": s.end - HOUR}) for s in moved.spans)
    stranger = gone.model_copy(update={"work_id": "U9/coat-1"})
    happened = gone.model_copy(update={"work_id": "U8/coat-1", "done": True})
    dates = tuple(d.model_copy(update={"delivered_at": d.delivered_at - 2 * HOUR}) for d in words.schedule.deliveries[:1])
    update = {
        "work": (*before, moved.model_copy(update={"spans": spans}), stranger, happened),
        "deliveries": (*dates, *words.schedule.deliveries[1:]),
    }
    rows = rows_of(book_of(words, words.schedule.model_copy(update=update)), "changes")
    seen = {(row["what"], row["id"], row["change"], row["later_h"]) for row in rows}
    assert seen == {
        ("hand-over", words.schedule.deliveries[0].order_id, "moved", 2),
        ("work", moved.work_id, "moved", 1),
        ("work", new.work_id, "new", None),
        ("work", "U9/coat-1", "gone", None),
    }
    assert rows[0]["what"] == "hand-over"


NASTY = ("=1+1", "+cmd|' /C calc'!A0", "@SUM(1)", "-1", "https://example.org", "<script>", "\u202eevil", "x" * 200)


@pytest.mark.parametrize("name", NASTY)
def test_names_stay_text(name: str) -> None:
    """Prove that nothing becomes a formula or a link: a schedule may have been changed by hand, past the border of the shop."""
    plan = sample_schedule()
    deliveries = tuple(d.model_copy(update={"customer": name}) for d in plan.deliveries)
    work = tuple(w.model_copy(update={"reason": name, "tools": (name,)}) for w in plan.work)
    made = WorkWords(sample_shop(), plan.model_copy(update={"deliveries": deliveries, "work": work}))
    book = book_of(made, plan, CheckReport((), {}, ()))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert not [cell for cell in cells if cell.data_type == "f" or cell.hyperlink is not None]
    assert rows_of(book, "dates")[0]["customer"] == name.replace("\u202e", "")


def test_the_hour_that_the_clock_shows_twice_is_told_apart() -> None:
    """Prove that its second round is a text with the offset, and every other moment a date that can be sorted."""
    zone = ZoneInfo("Europe/Berlin")
    first, second = (datetime(2025, 10, 26, hour, 30, tzinfo=UTC) for hour in (0, 1))
    assert moment(first, zone) == datetime(2025, 10, 26, 2, 30)
    assert moment(second, zone) == "2025-10-26T02:30+01:00"
