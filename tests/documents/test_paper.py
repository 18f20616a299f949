"""Sheets of each person and records of units."""

from datetime import timedelta

from documents.sample import MONDAY, sample_schedule, sample_shop
from scheduler.documents.crew_sheet import crew_sheets
from scheduler.documents.day_sheet import day_sheet
from scheduler.documents.paper_pages import crew_page, units_page
from scheduler.documents.unit_record import unit_records
from scheduler.documents.work_words import WorkWords

WORDS = WorkWords(sample_shop(), sample_schedule())
TUESDAY = day_sheet(WORDS, MONDAY + timedelta(days=1))


def test_everybody_gets_their_own_work_and_nothing_else() -> None:
    """The sheets of a day together hold each row once for each person on it."""
    sheets = crew_sheets(WORDS, TUESDAY)
    assert [sheet.name for sheet in sheets] == ["Ana", "Ben", "Cleo", "Dan"]
    assert sum(len(sheet.rows) for sheet in sheets) == sum(len(row.work.people) for row in TUESDAY.rows)
    ana = sheets[0]
    assert all(any(a.person_id == "ana" for a in row.work.people) for row in ana.rows)
    coat = next(row for row in ana.rows if row.work.work_id == "U1/coat-1")
    assert coat.people == ("you: sprayer", "with Ben (attendant)")


def test_a_person_reads_the_cautions_of_their_own_work() -> None:
    """Who sprays is warned of isocyanates; the list is that of their rows."""
    ana = crew_sheets(WORDS, TUESDAY)[0]
    assert "isocyanates" in {caution.name for caution in ana.cautions}


def test_a_page_can_be_made_for_one_person() -> None:
    """Only Ben's sheet is in it."""
    page = crew_page(WORDS, TUESDAY, ["ben"])
    assert 'id="person-ben"' in page
    assert 'id="person-ana"' not in page


def test_a_record_has_every_coat_with_film_lots_and_readings() -> None:
    """The first unit has a primer and two coats of 500 µm; its first coat takes from a lot and from an opened pack."""
    record = unit_records(WORDS)[0]
    assert [coat.step for coat in record.coats] == ["Prime", "Coat 1", "Coat 2"]
    coat = record.coats[1]
    assert coat.film.replace("\u202f", " ") == "500 µm"
    assert coat.packs == ("recapped: O-1", "new: L-01#001, #002")
    assert "steel above dew point" in {reading.what for reading in coat.readings}


def test_records_can_be_made_for_some_units() -> None:
    """Only the second unit is on the page."""
    page = units_page(WORDS, ["U2"])
    assert 'id="record-U2"' in page
    assert 'id="record-U1"' not in page
