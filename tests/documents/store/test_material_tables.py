"""Material on the page and on the sheets: what is said of it is what the lists of material hold."""

from datetime import timedelta

from documents.sample import MONDAY, sample_schedule, sample_shop
from scheduler.documents.sheets.day_sheet import day_sheet
from scheduler.documents.store.material_tables import (
    material_tables,
    openings_table,
    purchases_table,
    statement_table,
    waste_tile,
)
from scheduler.documents.words.work_words import WorkWords
from scheduler.material.explain import explain
from scheduler.material.statement import statement

WORDS = WorkWords(sample_shop(), sample_schedule())


def test_the_statement_has_a_row_for_each_product() -> None:
    """What stood opened, is opened and is sprayed, in the units of the site."""
    rows = {row[0]: row for row in statement_table(WORDS).rows}
    top = next(a for a in statement(WORDS.shop, WORDS.schedule) if a.product.product_id == "top")
    assert set(rows) == {"Bonding primer", "Elastomer coat"}
    assert rows["Elastomer coat"][1].replace("\u202f", " ") == "480 mL in 1 pack"
    assert f" in {top.opened.packs} packs; " in rows["Elastomer coat"][2]
    assert f"at least {top.least_packs} in any plan" in rows["Elastomer coat"][2]


def test_every_pack_beyond_the_fewest_has_its_reason() -> None:
    """As many rows as the explanation has, none without a reason."""
    rows = openings_table(WORDS).rows
    assert len(rows) == len(explain(WORDS.shop, WORDS.schedule))
    assert all(row[-1] for row in rows)


def test_purchases_say_what_is_left() -> None:
    """Both products of the sample are used."""
    assert {row[0] for row in purchases_table(WORDS).rows} == {"Bonding primer", "Elastomer coat"}


def test_tables_without_rows_are_left_out() -> None:
    """A plan without work has nothing to order and nothing to explain."""
    empty = WorkWords(WORDS.shop, WORDS.schedule.model_copy(update={"work": (), "stays": (), "deliveries": ()}))
    assert [table.caption for table in material_tables(empty)] == ["What becomes of the material"]
    assert waste_tile(empty).figure.endswith("%") or waste_tile(empty).figure == "none"


def test_the_waste_is_what_never_reaches_the_work() -> None:
    """Purges, heels and lapsed millilitres over what stood opened and was opened."""
    accounts = statement(WORDS.shop, WORDS.schedule)
    lost = sum(a.purged.ml + a.heels.ml + a.lapsed.ml for a in accounts)
    assert waste_tile(WORDS).figure == f"{100 * lost / sum(a.standing.ml + a.opened.ml for a in accounts):.1f} %"


def test_the_evening_list_names_slots_cartridges_and_when_they_are_warm() -> None:
    """Monday evening: the first load has the opened cartridge and two new ones in slots 1 to 3, for Tuesday."""
    row = next(row for row in day_sheet(WORDS, MONDAY).to_load if row.work.work_id == "U1/coat-1")
    assert (row.slots, row.packs, row.overnight) == ("1 to 3", "O-1, L-01#001, #002", True)
    assert row.warm_from
    taken = next(row for row in day_sheet(WORDS, MONDAY + timedelta(days=1)).to_take if row.work.work_id == "U1/coat-1")
    assert (taken.use_clock, taken.warm_from) == ("09:00", row.warm_from)
    assert taken.outside.endswith(" min")
