"""The quick count of a ledger is the ledger's."""

from hypothesis import given, settings

from material.cases import BEGUN, FILMS, LOTS, sheets
from scheduler.material.ledger import keep_ledger
from scheduler.material.pack import Begun, Film, Lot, PackSheet
from scheduler.material.quick_count import count


@settings(max_examples=300)
@given(films=FILMS, sheet=sheets(), lots=LOTS, begun=BEGUN)
def test_the_quick_count_is_that_of_the_ledger(films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun]) -> None:
    """Missing volume, packs opened and purges are the same, whatever the stock."""
    ledger = keep_ledger(films, {"P": sheet}, lots, begun, room=lambda _start, _end, _places: True)
    assert count(films, {"P": sheet}, lots, begun) == (ledger.missing_ul(), ledger.spent_ppm({"P": sheet}))


@settings(max_examples=200)
@given(films=FILMS, sheet=sheets(), lots=LOTS, begun=BEGUN)
def test_no_millilitre_is_lost(films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun]) -> None:
    """What films want is sprayed or missing; what was in a pack is sprayed, purged or left, and never less than its heel."""
    ledger = keep_ledger(films, {"P": sheet}, lots, begun)
    for film in films:
        sprayed = sum(e.sprayed_ul for e in ledger.entries if e.film == film.key)
        missing = sum(s.missing_ul for s in ledger.shorts if s.film == film.key)
        assert sprayed + missing == film.volume_ul
    content = {b.key: b.left_ul for b in begun}
    for entry in ledger.entries:
        before = content.get(entry.pack, sheet.full_ul)
        assert entry.left_ul == before - entry.purge_ul - entry.sprayed_ul >= sheet.heel_ul
        content[entry.pack] = entry.left_ul
