"""Stock on the grid: from when a lot or an opened pack is there to when it is out of date."""

from datetime import date
from typing import Any

from tiny_shop import LOTS, tiny_shop

from scheduler.activities.network import Source
from scheduler.activities.resources import crew_of
from scheduler.activities.stock import sources_of
from scheduler.shop.shop import Shop

DAY = 38


def _sources(shop: Shop) -> dict[str, Source]:
    return {s.key: s for s in sources_of(shop, crew_of(shop).grid)}


def test_a_lot_is_there_from_its_day_of_arrival_to_the_end_of_its_last_day() -> None:
    """It arrives on Tuesday and expires on Thursday: from the first slot of Tuesday to work that ends with Thursday."""
    lot = {**LOTS[0], "arrives_on": date(2025, 6, 3), "expires_on": date(2025, 6, 5)}
    source = _sources(tiny_shop(lots=[lot, LOTS[1]]))["A1"]
    assert (source.first, source.last, source.packs, source.gives_ul) == (DAY, 4 * DAY, 30, 30_000_000)


def _opened(**pack: object) -> dict[str, Any]:
    return {"pack_id": "X1", "lot_id": "A1", "opened_on": date(2025, 6, 1), "remaining_ml": 700, **pack}


def test_an_opened_pack_gives_what_purge_and_heel_leave() -> None:
    """700 mL less 60 mL of purge and 40 mL of heel; what is left of one that gives nothing is no source at all."""
    assert _sources(tiny_shop(opened=[_opened()]))["X1"].gives_ul == 600_000
    assert "X1" not in _sources(tiny_shop(opened=[_opened(remaining_ml=100)]))


def test_an_opened_pack_keeps_for_its_open_life_and_no_longer_than_its_lot() -> None:
    """Opened on 4 December 2024 it keeps 183 days, to 5 June; one of a lot that expires on the 4th goes with it."""
    old = _opened(opened_on=date(2024, 12, 4))
    assert _sources(tiny_shop(opened=[old]))["X1"].last == 4 * DAY
    lots = [{**LOTS[0], "expires_on": date(2025, 6, 4)}, LOTS[1]]
    assert _sources(tiny_shop(opened=[old], lots=lots))["X1"].last == 3 * DAY


def test_opened_packs_come_first_then_what_expires_first() -> None:
    """First expired, first out."""
    late = {**LOTS[0], "lot_id": "A0", "expires_on": date(2026, 12, 31)}
    shop = tiny_shop(lots=[late, LOTS[0]], opened=[_opened(), _opened(pack_id="X0", opened_on=date(2025, 5, 20))])
    assert list(_sources(shop)) == ["X0", "X1", "A1", "A0"]
