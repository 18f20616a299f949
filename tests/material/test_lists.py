"""Lists of material of the tiny schedule, counted by hand: two units, each a can of primer and twice five cartridges."""

from datetime import date, timedelta

import pytest
from check.tiny import at, edit, put, tiny_schedule
from draws import changed
from tiny_shop import LOTS, tiny_shop

from scheduler.material.explain import explain
from scheduler.material.pack_lives import pack_lives
from scheduler.material.purchases import purchases
from scheduler.material.statement import Account, statement
from scheduler.material.store_days import store_days
from scheduler.material.traceability import traceability
from scheduler.material.warmer_list import warmer_list
from scheduler.schedule.schedule import Schedule

MONDAY = date(2025, 6, 2)


def account(schedule: Schedule, product_id: str = "lining", **tables: object) -> Account:
    """The account of one product."""
    return next(a for a in statement(tiny_shop(**tables), schedule) if a.product.product_id == product_id)


def with_leftovers() -> Schedule:
    """U1's first coat takes six cartridges, the last two of them half: 540 mL stay in each, 440 mL of that for the work."""
    work = next(w for w in tiny_schedule().work if w.work_id == "U1/coat-1")
    half = changed(work.draws, 4, sprayed_ml=500.0, left_ml=540.0)
    extra = half[4].model_copy(update={"cartridge_id": "A1#021", "slot": 11})
    return put(tiny_schedule(), "U1/coat-1", draws=(*half, extra))


def test_every_millilitre_of_the_tiny_schedule() -> None:
    """20 packs of 1100 mL: 20,000 sprayed, 20 x 60 purged, 20 x 40 in heels; 10 of 30 stay on the shelf."""
    row = account(tiny_schedule())
    assert (row.opened.packs, row.opened.ml, row.sprayed_ml) == (20, 22_000, 20_000)
    assert (row.purged.packs, row.purged.ml) == (20, 1200)
    assert (row.heels.packs, row.heels.ml) == (20, 800)
    assert (row.left.packs, row.lapsed.packs, row.shelf.packs, row.expired.packs) == (0, 0, 10, 0)
    assert (row.least_packs, row.spent, row.unaccounted_ml) == (20, 20 + 1200 / 1100, 0)
    can = account(tiny_schedule(), "primer")
    assert (can.opened.packs, can.sprayed_ml, can.heels.packs, can.heels.ml, can.least_packs) == (2, 2500, 2, 0, 2)


def test_leftovers_are_left_or_lapse() -> None:
    """Two packs hold 540 mL when the plan ends on Friday; with an open life of three days both have lapsed by then."""
    row = account(with_leftovers())
    assert (row.opened.packs, row.left.packs, row.left.ml, row.unaccounted_ml) == (21, 2, 1080, 0)
    assert (row.least_packs, row.heels.packs) == (20, 19)
    short = tiny_shop().product_by_id["lining"].model_copy(update={"open_life_d": 3.0})
    lapsed = account(with_leftovers(), products=[short, tiny_shop().product_by_id["primer"]])
    assert (lapsed.left.packs, lapsed.lapsed.packs, lapsed.lapsed.ml, lapsed.unaccounted_ml) == (0, 2, 1080, 0)


def test_what_stands_opened_is_accounted_for() -> None:
    """A pack of 700 mL that nobody touches is standing and left; one past its open life is standing and lapsed."""
    for opened_on, left, lapsed in ((date(2025, 5, 1), 700, 0), (date(2024, 11, 1), 0, 700)):
        rows = [{"pack_id": "X1", "lot_id": "A1", "opened_on": opened_on, "remaining_ml": 700}]
        row = account(tiny_schedule(), opened=rows)
        assert (row.standing.packs, row.standing.ml, row.left.ml, row.lapsed.ml) == (1, 700, left, lapsed)
        assert row.unaccounted_ml == 0


def test_what_does_not_balance_is_told() -> None:
    """A schedule changed by hand in which 100 mL vanish."""
    schedule = edit(tiny_schedule(), "U2/coat-2", lambda w: {"draws": changed(w.draws, 4, sprayed_ml=900.0)})
    assert account(schedule).unaccounted_ml == pytest.approx(100)


def test_what_runs_out_when_and_what_to_order() -> None:
    """Five days of plan take 20 of 30 cartridges: 4 a day, so the ten left are gone on the third day after Friday, 9 June.

    With a lead time of 10 days the order is three days too late when the plan begins; it covers ten days. Of four cans two are
    left, 2 in five days: the third and fifth day after the plan, and none for the eighth, 14 June.
    """
    lining, primer = purchases(tiny_shop(), tiny_schedule())
    assert (lining.opened_packs, lining.packs_a_week, lining.left_packs) == (20, 28, 10)
    assert (lining.runs_out_on, lining.order_by, lining.is_late) == (date(2025, 6, 9), date(2025, 5, 30), True)
    assert (lining.order_packs, primer.order_packs) == (40, 4)
    assert (primer.runs_out_on, primer.order_by, primer.is_late) == (date(2025, 6, 14), date(2025, 6, 4), False)


def test_a_stock_that_the_plan_uses_up_and_one_that_lasts() -> None:
    """With 20 cartridges the last is opened on Thursday 5 June; 5,000 last for more than a year after the plan."""
    lots = [{**LOTS[0], "packs": 20}, LOTS[1]]
    last = purchases(tiny_shop(lots=lots), tiny_schedule())[0]
    assert (last.left_packs, last.last_in_plan_on, last.runs_out_on) == (0, date(2025, 6, 5), date(2025, 6, 6))
    lots = [{**LOTS[0], "packs": 5000, "expires_on": date(2029, 1, 1)}, LOTS[1]]
    lasting = next(p for p in purchases(tiny_shop(lots=lots), tiny_schedule()) if p.product.product_id == "lining")
    assert (lasting.runs_out_on, lasting.order_by, lasting.order_packs) == (None, None, 0)


def test_a_lot_that_expires_is_not_counted_on() -> None:
    """Ten cartridges are left when the plan ends on Friday 6 June, and no longer in date on the Sunday."""
    lots = [{**LOTS[0], "expires_on": date(2025, 6, 7)}, LOTS[1]]
    row = next(p for p in purchases(tiny_shop(lots=lots), tiny_schedule()) if p.product.product_id == "lining")
    assert (row.left_packs, row.runs_out_on) == (10, date(2025, 6, 8))


def test_store_and_floor() -> None:
    """Monday: a can, five cartridges to use and five for the night; five and the can are empty in the evening. Tuesday: five."""
    days = store_days(tiny_shop(), tiny_schedule())
    assert list(days) == [MONDAY + timedelta(days=d) for d in range(4)]
    monday, tuesday = days[MONDAY], days[MONDAY + timedelta(days=1)]
    assert sorted(f.life.pack for f in monday.fetch) == [*(f"A1#{n:03d}" for n in range(1, 11)), "P1#001"]
    assert all(f.is_new for f in monday.fetch)
    assert (len(monday.away), len(monday.back)) == (6, 0)
    assert (len(tuesday.fetch), len(tuesday.away)) == (0, 5)


def test_a_leftover_goes_back_and_is_fetched_again_once_a_day() -> None:
    """Left on Monday and used on Wednesday: back in between, fetched when it goes into the warmer, and back with what is left."""
    again = {"begins": "resumed", "purge_ml": 60.0, "cartridge_id": "A1#021"}
    schedule = edit(
        with_leftovers(), "U2/coat-1", lambda w: {"draws": changed(w.draws, sprayed_ml=200.0, left_ml=280.0, **again)}
    )
    days = store_days(tiny_shop(), schedule)
    assert [b.life.pack for b in days[MONDAY].back] == ["A1#005", "A1#021"]
    wednesday = days[MONDAY + timedelta(days=2)]
    fetched = next(f for f in wednesday.fetch if f.life.pack == "A1#021")
    assert (fetched.is_new, fetched.content_ml) == (False, 540)
    assert [(b.life.pack, b.left_ml) for b in wednesday.back] == [("A1#021", 280)]


def test_what_has_passed_its_last_day_is_thrown_away_on_the_next_day_of_work() -> None:
    """Opened packs that keep for Monday alone go on Tuesday, and a lot that expires on Wednesday unopened on Thursday."""
    short = tiny_shop().product_by_id["lining"].model_copy(update={"open_life_d": 0.5})
    old = {"lot_id": "A0", "product_id": "lining", "packs": 3, "arrives_on": date(2025, 5, 1), "expires_on": date(2025, 6, 4)}
    shop = tiny_shop(products=[short, tiny_shop().product_by_id["primer"]], lots=[*LOTS, old])
    days = store_days(shop, with_leftovers())
    tuesday = [a.life.pack for a in days[MONDAY + timedelta(days=1)].away if a.lapsed]
    assert tuesday == ["A1#005", "A1#021"]
    assert [(lot.lot_id, n) for lot, n in days[MONDAY + timedelta(days=3)].expired] == [("A0", 3)]


def test_the_loading_list() -> None:
    """In the morning for the same day, warm 2.0976 h after 10:00; in the evening for the next; 25.44 min outside at 20 °C."""
    rows = warmer_list(tiny_shop(), tiny_schedule(), lambda _bay, _start, _end: 20.0)
    assert len(rows) == 20
    morning, evening = rows[0], rows[5]
    assert (morning.loaded_at, morning.warm_from, morning.overnight) == (at(0, "10:00"), at(0, "12:06"), False)
    assert (evening.loaded_at, evening.use_day, evening.overnight) == (at(0, "15:00"), MONDAY + timedelta(days=1), True)
    assert [(row.warmer_id, row.slot) for row in rows[:5]] == [("W1", slot) for slot in range(1, 6)]
    assert {row.outside_min for row in rows} == {25}
    assert (morning.content_ml, morning.recapped) == (1100, False)


def test_on_a_warm_bench_there_is_no_limit() -> None:
    """Air of 27 °C keeps a cartridge above 26.667 °C for good."""
    rows = warmer_list(tiny_shop(), tiny_schedule(), lambda _bay, _start, _end: 27.0)
    assert {row.outside_min for row in rows} == {None}


def test_the_record_of_lots_and_cartridges() -> None:
    """Eleven draws a unit, by unit and time, each with its lot."""
    rows = traceability(tiny_shop(), tiny_schedule())
    assert [row.work.unit_id for row in rows] == ["U1"] * 11 + ["U2"] * 11
    assert [row.work.name for row in rows[:11]] == ["prime", *["coat-1"] * 5, *["coat-2"] * 5]
    assert (rows[1].draw.cartridge_id, rows[1].lot.lot_id, rows[1].work.coat_numbers) == ("A1#001", "A1", (2,))


def test_nothing_to_explain_where_the_bound_is_reached() -> None:
    """Twenty packs for four coats of five litres."""
    assert explain(tiny_shop(), tiny_schedule()) == ()


def test_one_pack_too_many_is_explained_by_what_stood_by() -> None:
    """880 mL stood by when U1's second coat opened five new ones: it is named with the reason that the plan gives."""
    silent = explain(tiny_shop(), with_leftovers())
    assert [(row.work.work_id, row.stood_by_ml) for row in silent] == [("U1/coat-2", 880)]
    assert silent[0].because == "880 mL stood by in opened packs, and the plan gives no reason"
    reason = "A1#021 is not warm again before Tue 03 Jun 08:00"
    told = edit(with_leftovers(), "U1/coat-2", lambda w: {"draws": changed(w.draws, reason=reason)})
    assert [(row.pack, row.because) for row in explain(tiny_shop(), told)] == [("A1#006", reason)]


def test_a_draw_from_a_lot_that_is_not_there_is_left_out() -> None:
    """The lists say nothing of what the shop does not know; the checker refuses it by name."""
    schedule = edit(tiny_schedule(), "U1/prime", lambda w: {"draws": changed(w.draws, lot_id="Z9", cartridge_id="Z9#001")})
    assert all(life.lot.lot_id != "Z9" for life in pack_lives(tiny_shop(), schedule))
