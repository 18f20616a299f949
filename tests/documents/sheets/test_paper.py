"""Sheets of each person and records of units."""

from datetime import timedelta

from documents.sample import MONDAY, local, sample_schedule, sample_shop
from scheduler.documents.paper.paper_pages import crew_page, units_page
from scheduler.documents.sheets.crew_sheet import crew_sheets
from scheduler.documents.sheets.day_sheet import day_sheet
from scheduler.documents.sheets.unit_record import Coat, unit_records
from scheduler.documents.words.work_words import WorkWords
from scheduler.record.events import Reading
from scheduler.schedule.schedule import Work

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


def reading(day: int, clock: str, **said: object) -> Reading:
    """What somebody measured on a day of the sample."""
    at = local(MONDAY + timedelta(days=day), clock)
    return Reading.model_validate({"id": f"{day} {clock}", "happened_at": at, "recorded_at": at, "by": "Ana", **said})


def coats_of(*happened: Reading) -> dict[str, Coat]:
    """Films of the first unit by step."""
    words = WorkWords(sample_shop(), sample_schedule(), happened)
    return {coat.step: coat for coat in unit_records(words)[0].coats}


def first_film() -> Work:
    """The first coat of the first unit."""
    return next(work for work in sample_schedule().work if work.work_id == "U1/coat-1")


def test_readings_stand_with_the_film_that_they_belong_to() -> None:
    """Air and steel before a coat go with that coat, a film thickness after it too; the boxes that are filled are gone."""
    work = first_film()
    day, start, end = (work.start.date() - MONDAY).days, f"{work.start:%H:%M}", f"{work.end:%H:%M}"
    before = reading(day, start, unit_id="U1", air_c=20.0, steel_c=9.0, dew_point_c=8.5)
    coats = coats_of(before, reading(day, end, unit_id="U1", dft_um=(480.0, 530.0)))
    assert coats["Prime"].measured == ()
    climate, film = coats["Coat 1"].measured
    assert {f.what: f.outside for f in climate.figures}["steel above dew point"]
    assert [f.value.replace("\u202f", " ") for f in climate.figures][:3] == ["20 °C", "9 °C", "8.5 °C"]
    assert film.figures[0].value.replace("\u202f", " ") == "480 µm to 530 µm, mean of 2: 505 µm"
    assert film.figures[0].must_be.replace("\u202f", " ") == "500 µm"
    assert {row.name for row in coats["Coat 1"].readings} == {"material_c"}
    assert coats["Coat 2"].measured == ()


def test_a_reading_of_a_bay_counts_for_its_films_of_that_day() -> None:
    """Humidity of the coating hall is with the coat of that day, that of the wash hall and of the day before are not."""
    work = first_film()
    day, start = (work.start.date() - MONDAY).days, f"{work.start:%H:%M}"
    here = reading(day, start, bay_id=work.bay_id, air_c=20.0, rh_pct=50.0)
    assert len(coats_of(here)["Coat 1"].measured) == 1
    assert coats_of(reading(day, start, bay_id="B1", rh_pct=50.0))["Coat 1"].measured == ()
    assert coats_of(reading(day - 1, "06:30", bay_id=work.bay_id, rh_pct=50.0))["Coat 1"].measured == ()


def test_the_record_prints_what_was_measured() -> None:
    """Value, limit and whoever measured; outside of the limit is said, in words."""
    work = first_film()
    day, start = (work.start.date() - MONDAY).days, f"{work.start:%H:%M}"
    words = WorkWords(sample_shop(), sample_schedule(), (reading(day, start, unit_id="U1", air_c=1.0, by="Ana <b>"),))
    page = units_page(words, ["U1"])
    assert "air temperature <b>1\u202f°C</b>" in page
    assert ">outside</span>" in page
    assert "Ana &lt;b&gt;" in page


def test_history_that_does_not_say_what_a_person_did_names_the_person_alone() -> None:
    """No empty brackets, on no sheet."""
    history = sample_schedule()
    unsaid = tuple(
        w.model_copy(update={"people": tuple(a.model_copy(update={"skill": ""}) for a in w.people)}) for w in history.work
    )
    words = WorkWords(sample_shop(), history.model_copy(update={"work": unsaid}))
    sheet = day_sheet(words, MONDAY + timedelta(days=1))
    people = [person for own in crew_sheets(words, sheet) for row in own.rows for person in row.people]
    assert "you" in people
    assert not any("(" in person or person.endswith(": ") for person in people)
