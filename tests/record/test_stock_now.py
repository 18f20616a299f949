"""What is on the shelf once material was taken: as planned, as reported, recapped or gone."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from tiny_shop import MONDAY, tiny_shop

from scheduler.pipeline import Plan, plan
from scheduler.record.desk import Desk
from scheduler.record.enter import admit
from scheduler.record.event_of_report import event_of
from scheduler.record.event_words import event_words
from scheduler.record.events import AnyEvent, Fate, Finished, Reading, Started, Stopped, Used, sealed
from scheduler.record.reading_limits import reading_words
from scheduler.record.report import Report
from scheduler.record.shop_now import shop_now
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop

LATE = MONDAY + timedelta(days=10)


@pytest.fixture(scope="module")
def planned() -> Plan:
    """The tiny shop, planned: each coat takes five cartridges and part of a sixth."""
    return plan(tiny_shop(), Settings(moves=20, workers=1))


def _event(model: Any, at: datetime, **fields: Any) -> AnyEvent:
    return sealed(model(happened_at=at, recorded_at=at, **fields))


def _up_to(found: Plan, work: Any) -> list[AnyEvent]:
    """What happened to a unit until a step has ended, as planned."""
    rows = [w for w in found.schedule.work if w.unit_id == work.unit_id and w.end <= work.end]
    return [_event(Finished, w.end, unit_id=w.unit_id, step=w.name, started_at=w.start) for w in rows]


def _stock(shop: Shop) -> tuple[dict[str, tuple[int, int]], dict[str, float]]:
    lots = {lot.lot_id: (lot.packs, lot.opened_before) for lot in shop.lots}
    return lots, {pack.pack_id: pack.remaining_ml for pack in shop.opened}


def _first_coat(found: Plan) -> Any:
    return min((w for w in found.schedule.work if w.name == "coat-1"), key=lambda w: w.start)


def test_what_was_planned_is_gone_and_what_is_left_is_recapped(planned: Plan) -> None:
    """Packs are numbered on, and a rest that is worth a purge and a heel stands opened under its name."""
    coat = _first_coat(planned)
    shop = shop_now(planned.shop, planned.schedule, _up_to(planned, coat), coat.end)
    opened = [d for d in coat.draws if d.begins == "opened"]
    lots, rests = _stock(shop)
    assert lots["A1"] == (30 - len(opened), len(opened))
    assert {k: v for k, v in rests.items() if k.startswith("A1")} == {
        d.cartridge_id: pytest.approx(d.left_ml) for d in coat.draws if d.left_ml > 100
    }
    assert plan(shop, Settings(moves=5, workers=1)).report.ok


def test_a_reported_volume_takes_the_place_of_the_planned_one(planned: Plan) -> None:
    """300 mL of one pack, recapped: 800 mL are left in it; thrown away, nothing is."""
    coat = _first_coat(planned)
    told, pack = _up_to(planned, coat), coat.draws[0].cartridge_id
    of = {"cartridge_id": pack, "lot_id": "A1", "ml": 300, "unit_id": coat.unit_id, "step": "coat-1"}
    for fate, left in ((Fate.RECAPPED, {pack: 800.0}), (Fate.THROWN_AWAY, {}), (Fate.EMPTIED, {})):
        shop = shop_now(planned.shop, planned.schedule, [*told, _event(Used, coat.end, fate=fate, **of)], coat.end)
        assert {name: ml for name, ml in _stock(shop)[1].items() if name == pack} == left


def test_of_a_step_that_was_broken_off_only_what_is_reported_is_gone(planned: Plan) -> None:
    """Stopped in the middle: one pack was opened and not five."""
    coat = _first_coat(planned)
    middle = coat.start + (coat.end - coat.start) / 2
    told = [e for e in _up_to(planned, coat) if getattr(e, "step", "") != "coat-1"]
    of = {"unit_id": coat.unit_id, "step": "coat-1"}
    used = _event(Used, middle, cartridge_id="A1#001", lot_id="A1", ml=500, fate=Fate.EMPTIED, **of)
    told += [_event(Started, coat.start, **of), used, _event(Stopped, middle, why="hose", **of)]
    assert _stock(shop_now(planned.shop, planned.schedule, told, middle))[0]["A1"] == (29, 1)


def test_no_pack_gives_more_than_it_holds(planned: Plan) -> None:
    """Two reports of 600 mL from a pack of 1100 mL."""
    one, two = (_event(Used, MONDAY + timedelta(hours=h), cartridge_id="A1#009", lot_id="A1", ml=600) for h in (1, 2))
    desk = Desk(planned.shop, planned.schedule, (one,), LATE)
    assert [o.problem for o in admit(desk, two).objections] == ["1200 mL in all are more than A1#009 holds, 1100 mL"]


@pytest.mark.parametrize(
    ("reading", "says"),
    [
        ({"air_c": 4.0}, "outside the limits of its sheet: air 4 °C, at least 5 °C"),
        ({"steel_c": 12.0, "dew_point_c": 9.5}, "steel 2.5 K above the dew point, at least 3 K"),
        (
            {"air_c": 16.0, "steel_c": 14.2, "dew_point_c": 9.0},
            "what was measured lies within the limits of its sheet: air 16 °C",
        ),
        ({"dft_um": (400.0,)}, "so far are 90 um by plan: 400 um is more than 3 times as much"),
    ],
)
def test_a_reading_stands_beside_the_limits_of_the_next_film(planned: Plan, reading: dict[str, Any], says: str) -> None:
    """It says what is outside, and never that work may be done."""
    coat = _first_coat(planned)
    told = tuple(e for e in _up_to(planned, coat) if getattr(e, "step", "") != "coat-1")
    event = Reading(unit_id=coat.unit_id, happened_at=coat.start, recorded_at=coat.start, **reading)
    (words,) = reading_words(Desk(planned.shop, planned.schedule, told, coat.start), event)
    assert says in words
    assert "safe" not in words


@pytest.mark.parametrize("share", [-0.5, 0.5, 1.5])
def test_a_reading_that_is_recorded_late_is_of_the_film_it_was_taken_for(planned: Plan, share: float) -> None:
    """Before and during the first coat of that coat, after it of the next, although both are done when it is recorded."""
    coat = _first_coat(planned)
    films = [work for work in planned.schedule.work if work.unit_id == coat.unit_id and work.product_id]
    following = films[films.index(coat) + 1]
    at = coat.start + share * (coat.end - coat.start)
    event = Reading(unit_id=coat.unit_id, happened_at=at, recorded_at=following.end, steel_c=1.0)
    told = tuple(_up_to(planned, following))
    (words,) = reading_words(Desk(planned.shop, planned.schedule, told, following.end), event)
    assert words.startswith(f"before {coat.name if share < 1 else following.name} of {coat.unit_id}")


@pytest.mark.parametrize(
    ("shares", "says"),
    [
        ((0.7, 1.4), ("is below 80% of it",)),
        ((0.9, 0.95), ("the mean of",)),
        ((1.0, 3.4), ("is more than 3 times as much",)),
        ((1.0, 1.1), ("no reading is far off",)),
    ],
)
def test_a_thickness_stands_beside_what_the_films_so_far_add_up_to(
    planned: Plan, shares: tuple[float, ...], says: tuple[str, ...]
) -> None:
    """Too thin by one reading or by the mean, too thick, or near what is planned."""
    coat = _first_coat(planned)
    told = tuple(_up_to(planned, coat))
    desk = Desk(planned.shop, planned.schedule, told, coat.end)
    nominal = 90 + 500  # primer and first coat of the tiny shop
    reading = Reading(
        unit_id=coat.unit_id, happened_at=coat.end, recorded_at=coat.end, dft_um=tuple(share * nominal for share in shares)
    )
    words = reading_words(desk, reading)[-1]
    assert words.startswith(f"films of {coat.unit_id} so far are")
    assert all(text in words for text in says), words


def test_a_reading_in_a_bay_is_said_of_the_units_that_stand_there(planned: Plan) -> None:
    """The air of the bay beside the limits of the film that comes next on each."""
    coat = _first_coat(planned)
    told = tuple(e for e in _up_to(planned, coat) if getattr(e, "step", "") != "coat-1")
    event = Reading(bay_id=coat.bay_id, happened_at=coat.start, recorded_at=coat.start, air_c=4.0)
    words = reading_words(Desk(planned.shop, planned.schedule, told, coat.start), event)
    assert any(text.startswith(f"before {coat.name} of {coat.unit_id}") and "air 4" in text for text in words)


def test_what_did_not_come_of_a_delivery_is_said_and_can_be_announced(planned: Plan) -> None:
    """Fewer packs than were announced; the rest as a lot of its own that is still to come, not as one that is listed."""
    now = planned.shop.site.plan_from + timedelta(days=1)
    lot = planned.shop.lots[0].model_copy(update={"arrives_on": now.date() + timedelta(days=3), "packs": 50})
    shop = planned.shop.with_tables(lots=(lot, *planned.shop.lots[1:]))
    desk = Desk(shop, planned.schedule, (), now)
    said = {"packs": "20", "expires": "2030-01-01", "product": lot.product_id}
    some = event_of(desk, Report("delivered", lot.lot_id, said))
    assert "30 of 50 announced did not come" in event_words(shop, some)
    desk = desk.with_event(some)
    later = {**said, "packs": "30", "at": (now + timedelta(days=9)).isoformat()}
    same, other = event_of(desk, Report("delivered", lot.lot_id, later)), event_of(desk, Report("delivered", "MORE", later))
    assert "a lot of its own" in admit(desk, same).objections[0].cure
    assert not admit(desk, other).objections
    lots = {row.lot_id: row for row in desk.with_event(other).shop_now.lots}
    assert (lots[lot.lot_id].packs, lots["MORE"].packs) == (20, 30)
    assert lots["MORE"].arrives_on == now.date() + timedelta(days=9)


def test_a_number_that_a_lot_never_had_is_refused_after_it_was_rejected_too(planned: Plan) -> None:
    """What is used of a rejected lot is still one of its packs."""
    lot, now = planned.shop.lots[0], planned.shop.site.plan_from + timedelta(days=1)
    desk = Desk(planned.shop, planned.schedule, (), now)
    desk = desk.with_event(event_of(desk, Report("rejected", lot.lot_id)))
    used = event_of(desk, Report("used", f"{lot.lot_id}#{lot.opened_before + lot.packs + 1:03d}", {"ml": "10"}))
    assert admit(desk, used).objections
