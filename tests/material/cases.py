"""Films, packs and stock at random, for property tests of the ledger: one product, 60 slots, packs of 100 units."""

from hypothesis import strategies as st

from scheduler.material.pack import Begun, Film, Lot, PackSheet

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
