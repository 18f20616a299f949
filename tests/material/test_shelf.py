"""The packs that a film is offered are exactly those for which the ledger can give no reason against."""

from hypothesis import given
from hypothesis import strategies as st

from scheduler.material.pack import Film, PackSheet
from scheduler.material.shelf import Pack, Shelf, begins_as, gives_ul, ready_packs, why_not

SLOTS = 12
SHEET = PackSheet(full_ul=100, heel_ul=10, start_ul=7, recap_ul=5, lapses=tuple(range(SLOTS)), back=tuple(range(SLOTS)))
SLOT = st.integers(0, SLOTS)
PACKS = st.lists(
    st.builds(
        Pack, key=st.just("X"), lot=st.just("L"), left_ul=st.integers(8, 18), first=SLOT, last=SLOT,
        free_from=SLOT, used_until=st.integers(-1, SLOTS), gun=st.sampled_from(["", "G1", "G2"]),
    ),
    max_size=20,
)  # fmt: skip


@given(packs=PACKS, start=SLOT, slots=st.integers(1, 4), gun=st.sampled_from(["", "G1"]))
def test_a_pack_is_offered_where_nothing_speaks_against_it(packs: list[Pack], start: int, slots: int, gun: str) -> None:
    """One that is ready comes with how the film begins with it and with what it gives; one with a reason does not come."""
    film = Film(1, "P", start, start + slots, 50, gun=gun)
    begun = [(pack, begins_as(film, pack)) for pack in packs]
    free = [(pack, begins, gives_ul(SHEET, pack, begins)) for pack, begins in begun if why_not(film, SHEET, pack, begins) == ""]
    assert ready_packs(film, Shelf(SHEET, [], packs)) == free
