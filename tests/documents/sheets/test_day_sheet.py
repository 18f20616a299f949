"""The foreman's sheet: what stands on it, in which order, with which limits."""

import csv
import io
from datetime import date, timedelta

from documents.sample import MONDAY, local, sample_schedule, sample_shop
from scheduler.documents.cautions.cautions import all_cautions, cautions_for
from scheduler.documents.sheets.day_sheet import day_sheet, day_sheets
from scheduler.documents.sheets.day_sheet_csv import COLUMNS, day_sheet_csv
from scheduler.documents.sheets.dew_point_table import dew_point_table
from scheduler.documents.sheets.limits import readings
from scheduler.documents.words.reading_units import NARROW_SPACE, units_for
from scheduler.documents.words.work_words import WorkWords
from scheduler.physics.psychrometrics import dew_point_c
from scheduler.schedule.schedule import Span
from scheduler.shop.methods import Step
from scheduler.shop.site import UnitSystem

WORDS = WorkWords(sample_shop(), sample_schedule())
TUESDAY = MONDAY + timedelta(days=1)


def limits_of(words: WorkWords, work_id: str) -> dict[str, str]:
    """What must be measured before a piece of work, with plain spaces."""
    work = next(w for w in words.schedule.work if w.work_id == work_id)
    return {r.what: r.must_be.replace(NARROW_SPACE, " ") for r in readings(words, work)}


def test_rows_stand_by_time_and_bay() -> None:
    """Tuesday's rows rise in time, and at one time in the name of the bay."""
    keys = [(row.span.start, row.place) for row in day_sheet(WORDS, TUESDAY).rows]
    assert keys == sorted(keys)
    assert len(keys) == 22


def test_a_film_row_says_who_how_much_and_with_what() -> None:
    """First coat of U1: two named people, area, millilitres, cartridges, the gun."""
    row = next(r for r in day_sheet(WORDS, TUESDAY).rows if r.work.work_id == "U1/coat-1")
    assert (row.starts, row.ends, row.step, row.letter, row.place) == ("09:00", "10:15", "Coat 1", "C", "Coating hall, place 1")
    assert row.people == ("Ana (sprayer)", "Ben (attendant)")
    assert [text.replace(NARROW_SPACE, " ") for text in row.how_much] == ["14.2 m²", "2 100 mL", "3 cartridges"]
    assert (row.product, row.tools) == ("Elastomer coat", "G1#1 Cartridge gun")


def test_a_film_asks_for_steel_air_dew_point_humidity_and_material() -> None:
    """Limits of the product's sheet; indoors neither wind nor rain is asked for."""
    assert limits_of(WORDS, "U1/coat-1") == {
        "steel temperature": "5 °C to 40 °C",
        "air temperature": "at least 5 °C",
        "steel above dew point": "at least 3 °C",
        "humidity": "at most 85 % RH",
        "material in the cartridge": "26.7 °C to 32.2 °C",
    }


def test_outdoors_wind_and_rain_are_asked_for_too() -> None:
    """Under the canopy: wind at most 6 m/s, no rain."""
    under_canopy = limits_of(WORDS, "U4/coat-1")
    assert (under_canopy["wind"], under_canopy["rain"]) == ("at most 6 m/s", "none")


def test_limits_in_us_units_are_rounded_to_the_careful_side() -> None:
    """26.7 to 32.2 °C, 3 K: at least 80.1 °F, at most 89.9 °F, at least 5.4 °F above the dew point."""
    us = limits_of(WorkWords(sample_shop(reads="us"), sample_schedule()), "U1/coat-1")
    assert us["material in the cartridge"] == "80.1 °F to 89.9 °F"
    assert us["steel above dew point"] == "at least 5.4 °F"


def test_the_tighter_of_product_and_method_counts() -> None:
    """A method that allows 70 % humidity rules over a sheet that allows 85 %."""
    shop = sample_shop().model_dump()
    shop["methods"] = [m | {"rh_max_pct": 70.0} if m["step"] is Step.COAT else m for m in shop["methods"]]
    words = WorkWords(type(WORDS.shop).model_validate(shop), WORDS.schedule)
    assert limits_of(words, "U1/coat-1")["humidity"] == "at most 70 % RH"


def test_cartridges_of_tomorrow_are_loaded_tonight() -> None:
    """Monday evening: six loads for Tuesday's coats; the day after takes them out of the named warmer."""
    monday, tuesday = day_sheet(WORDS, MONDAY), day_sheet(WORDS, TUESDAY)
    assert [(r.warmer, r.cartridges, r.loaded, r.used) for r in monday.to_load[:1]] == [
        ("W1 Warmer", 3, "Mon 20 Oct 15:30", "Tue 21 Oct 09:00")
    ]
    assert sum(r.cartridges for r in monday.to_load) == 12
    assert sorted(r.work.work_id for r in monday.to_load) == sorted(r.work.work_id for r in tuesday.to_take)
    assert not monday.to_take


def test_work_that_pauses_says_which_part_it_is() -> None:
    """Abrading before and after the break stands in two rows."""
    parts = [(r.starts, r.part) for r in day_sheet(WORDS, MONDAY).rows if r.work.work_id == "U1/abrade"]
    assert parts == [("09:30", "part 1 of 2"), ("12:30", "part 2 of 2")]


def test_work_over_midnight_stands_on_both_days() -> None:
    """A stretch from 23:00 to 01:00 is on two sheets, its end with the day."""
    work = WORDS.schedule.work[0]
    night = work.model_copy(update={"spans": (Span(start=local(MONDAY, "23:00"), end=local(TUESDAY, "01:00")),)})
    words = WorkWords(WORDS.shop, WORDS.schedule.model_copy(update={"work": (night,)}))
    assert [[r.ends for r in sheet.rows] for sheet in day_sheets(words)] == [["Tue 21 Oct 01:00"], ["Tue 21 Oct 01:00"]]


def test_days_past_the_forecast_are_marked() -> None:
    """Fourteen orders run into November, where only a typical year is known."""
    words = WorkWords(sample_shop(units=20), sample_schedule(20))
    marked = {sheet.day for sheet in day_sheets(words) if sheet.typical_weather}
    assert marked
    assert all(day >= date(2025, 11, 1) for day in marked)


def test_a_day_without_work_gives_an_empty_sheet() -> None:
    """Nothing is made up for a Sunday."""
    sheet = day_sheet(WORDS, date(2025, 10, 26))
    assert (sheet.rows, sheet.to_load, sheet.to_take, sheet.cautions) == ((), (), (), ())


def test_the_sheet_as_csv_holds_every_row_in_the_units_of_its_columns() -> None:
    """Work rows and warmer rows; limits in °C though people read °F; moments with the offset of the site."""
    words = WorkWords(sample_shop(reads="us"), sample_schedule())
    sheet = day_sheet(words, TUESDAY)
    rows = list(csv.DictReader(io.StringIO(day_sheet_csv(sheet, words.time).removeprefix("\ufeff"))))
    coat = next(r for r in rows if (r["unit_id"], r["step"], r["kind"]) == ("U1", "coat-1", "work"))
    assert tuple(rows[0]) == COLUMNS
    assert len(rows) == len(sheet.rows) + len(sheet.to_load)
    assert (coat["material_c_min"], coat["material_c_max"], coat["dew_margin_k_min"]) == ("26.7", "32.2", "3.0")
    assert (coat["starts_at"], coat["volume_ml"]) == ("2025-10-21T09:00+02:00", "2100.4")


def test_every_caution_is_called_for_by_some_work_of_the_sample() -> None:
    """No caution is dead text, and each has the name by which it is chosen."""
    assert cautions_for(WORDS.shop, WORDS.schedule.work) == all_cautions()


def test_cautions_follow_the_work_of_the_day() -> None:
    """Moving alone calls for lifting; a coat for isocyanates, solvent, air, heat, warm cartridges and tight spaces."""
    of = {step: {c.name for c in cautions_for(WORDS.shop, [w])} for w in WORDS.schedule.work for step in [w.step]}
    assert of[Step.RECEIVE] == {"lifting"}
    assert of[Step.COAT] == {"isocyanates", "solvent", "air", "cartridges", "heat", "confined"}
    assert of[Step.ABRADE] >= {"dust", "air", "heat", "confined"}
    assert of[Step.WIPE] >= {"solvent", "heat"}


def test_cautions_defer_and_never_say_that_something_is_safe() -> None:
    """Each names who rules: the safety data sheet, local codes, licensed or responsible people, or medical help."""
    who = ("safety data sheet", "local codes", "licensed", "person responsible", "medical")
    for caution in all_cautions():
        text = " ".join((caution.title, *caution.lines)).lower()
        assert any(word in text for word in who), caution.name
        assert "safe" not in text.replace("safety data sheet", ""), caution.name


def test_the_dew_point_table_is_rounded_up() -> None:
    """20 °C and 60 % is 12.0 °C (Magnus, WMO-No. 8, Annex 4.B; from memory); no cell lies below the computed value."""
    table = dew_point_table(units_for(UnitSystem.SI), UnitSystem.SI)
    row = next(r for r in table.rows if r[0] == "20")
    assert row[table.columns.index("60 %")] == "12"
    assert float(row[table.columns.index("85 %")]) >= dew_point_c(20.0, 85.0)


def test_the_dew_point_table_reads_in_the_units_of_the_site() -> None:
    """70 °F and 50 % is 50.5 °F, rounded up."""
    table = dew_point_table(units_for(UnitSystem.US), UnitSystem.US)
    row = next(r for r in table.rows if r[0] == "70")
    exact = dew_point_c((70 - 32) / 1.8, 50.0) * 1.8 + 32
    assert 0 <= float(row[table.columns.index("50 %")]) - exact < 0.1
