"""The quick count of a ledger is the ledger's."""

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.material.ledger import keep_ledger
from scheduler.material.pack import Begun, Film, Lot, PackSheet
from scheduler.material.quick_count import count

SLOTS = 60


@st.composite
def sheets(draw: st.DrawFn) -> PackSheet:
    """Packs of 100 units with purges and heels, some that are warm again after a while, some that keep for a day of ten slots."""
    warm = draw(st.integers(0, 6))
    life = draw(st.sampled_from((10, 30, SLOTS)))
    lapses = tuple(min(SLOTS, (s // 10) * 10 + life) for s in range(SLOTS))
    back = tuple(min(SLOTS, e + warm) for e in range(SLOTS + 1))
    heel, start, recap = draw(st.integers(0, 5)), draw(st.integers(0, 9)), draw(st.integers(0, 9))
    return PackSheet(100, heel, start, recap, lapses, back, draw(st.booleans()))


FILMS = st.lists(
    st.tuples(st.integers(8, SLOTS - 6), st.integers(1, 5), st.integers(1, 330), st.booleans()), min_size=1, max_size=14
).map(lambda rows: [Film(k, "P", s, s + n, ul, s - 6 if warm else None) for k, (s, n, ul, warm) in enumerate(rows)])
LOTS = st.lists(st.tuples(st.integers(0, 25), st.integers(0, 20), st.integers(30, SLOTS)), max_size=3).map(
    lambda rows: [Lot(f"L{k}", "P", *row) for k, row in enumerate(rows)]
)
BEGUN = st.lists(st.tuples(st.integers(1, 100), st.integers(20, SLOTS)), max_size=3).map(
    lambda rows: [Begun(f"B{k}", "L0", "P", ul, 0, last) for k, (ul, last) in enumerate(rows)]
)


@settings(max_examples=300)
@given(films=FILMS, sheet=sheets(), lots=LOTS, begun=BEGUN)
def test_the_quick_count_is_that_of_the_ledger(films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun]) -> None:
    """Missing volume, packs opened and purges are the same, whatever the stock."""
    ledger = keep_ledger(films, {"P": sheet}, lots, begun)
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
