"""The ledger on random films and stock: in date, once at a time, warm again, first expired first out, never below its bound."""

from collections import defaultdict
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from material.cases import BEGUN, FILMS, LOTS, sheets
from scheduler.material.best_ledger import best_ledger
from scheduler.material.bound import least_packs
from scheduler.material.ledger import Entry, Habit, Ledger, keep_ledger
from scheduler.material.look_ahead import look_ahead
from scheduler.material.pack import Begun, Film, Lot, PackSheet

HABIT = st.one_of(st.builds(Habit, st.integers(1, 4), st.booleans()), st.none())
"""A habit, or none: then it is looked ahead."""
CASES = given(films=FILMS, sheet=sheets(), lots=LOTS, begun=BEGUN, habit=HABIT)


def kept(films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun], habit: Habit | None) -> Ledger:
    """A ledger of one habit or of a look ahead, lots first expired first."""
    lots = sorted(lots, key=lambda lot: lot.last)
    if habit is None:
        chosen = look_ahead(films, sheet, lots, begun, lambda _film: 9, width=3)
        return keep_ledger(films, {"P": sheet}, lots, begun, room=always, chosen=chosen)
    return keep_ledger(films, {"P": sheet}, lots, begun, {"P": habit})


def always(_start: int, _end: int, _places: int) -> bool:
    """Warmers with a slot for every leftover."""
    return True


def uses_of(ledger: Ledger) -> dict[str, list[Entry]]:
    """Entries of each pack, in the order of time."""
    found: dict[str, list[Entry]] = defaultdict(list)
    for entry in ledger.entries:
        found[entry.pack].append(entry)
    return found


@settings(max_examples=150)
@CASES
def test_no_pack_is_used_out_of_date(
    films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun], habit: Habit | None
) -> None:
    """Not before it is there, not after its lot's date, not after its open life."""
    film_of, lot_of = {f.key: f for f in films}, {lot.key: lot for lot in lots}
    stood = {b.key: b for b in begun}
    for pack, uses in uses_of(kept(films, sheet, lots, begun, habit)).items():
        first = film_of[uses[0].film]
        for use in uses:
            film = film_of[use.film]
            if pack in stood:
                assert stood[pack].first <= film.start
                assert film.end <= stood[pack].last
            else:
                lot = lot_of[use.lot]
                assert lot.first <= (first.start if first.loaded is None else first.loaded)
                assert film.end <= lot.last
                assert use is uses[0] or film.end <= sheet.lapses[first.start]


@settings(max_examples=150)
@CASES
def test_a_pack_is_in_one_gun_at_a_time_and_warm_again(
    films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun], habit: Habit | None
) -> None:
    """It is opened once, used again only when it is back, and never goes into a warmer while it is in use."""
    film_of = {f.key: f for f in films}
    for pack, uses in uses_of(kept(films, sheet, lots, begun, habit)).items():
        assert [use.begins == "opened" for use in uses] == [pack not in {b.key for b in begun}, *(False for _ in uses[1:])]
        for before, use in pairwise(uses):
            ended = film_of[before.film].end
            assert film_of[use.film].start >= sheet.back[ended]
            assert use.loaded is None or use.loaded >= ended


@settings(max_examples=150)
@CASES
def test_no_draw_is_beyond_what_a_pack_gives(
    films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun], habit: Habit | None
) -> None:
    """Every start costs its purge, something is sprayed at each, and lots give no more packs than they have."""
    ledger = kept(films, sheet, lots, begun, habit)
    for entry in ledger.entries:
        assert entry.purge_ul == {"opened": sheet.start_ul, "resumed": sheet.recap_ul, "continued": 0}[entry.begins]
        assert 0 < entry.sprayed_ul <= sheet.full_ul - sheet.heel_ul - entry.purge_ul
    for lot in lots:
        numbers = [e.pack for e in ledger.entries if e.begins == "opened" and e.lot == lot.key]
        assert numbers == [f"{lot.key}#{n:03d}" for n in range(1, len(numbers) + 1)]
        assert len(numbers) <= lot.packs


@settings(max_examples=150)
@CASES
def test_first_expired_first_out(films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun], habit: Habit) -> None:
    """A lot is opened only when those that expire before it have nothing left that the film could use (common practice)."""
    film_of, left = {f.key: f for f in films}, {lot.key: lot.packs for lot in lots}
    for entry in kept(films, sheet, lots, begun, habit).entries:
        if entry.begins != "opened":
            continue
        film, mine = film_of[entry.film], next(lot for lot in lots if lot.key == entry.lot)
        there = film.start if film.loaded is None else film.loaded
        for lot in lots:
            if lot.last < mine.last and lot.first <= there and film.end <= lot.last:
                assert left[lot.key] == 0
        left[entry.lot] -= 1


@settings(max_examples=150)
@CASES
def test_films_in_any_order_give_the_same_ledger(
    films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun], habit: Habit | None
) -> None:
    """What counts is when they are sprayed, not how they are listed."""
    assert kept(films, sheet, lots, begun, habit) == kept(films[::-1], sheet, lots, begun, habit)


@settings(max_examples=150)
@CASES
def test_no_ledger_is_below_the_bound(
    films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun], habit: Habit | None
) -> None:
    """Whatever the habit, a ledger that serves every film opens and spends at least what the bound says, and the best of
    all habits spends no more than any.
    """
    least = least_packs([f.volume_ul for f in films], sheet, [b.left_ul for b in begun])
    ledger = kept(films, sheet, lots, begun, habit)
    best = best_ledger(films, {"P": sheet}, sorted(lots, key=lambda lot: lot.last), begun)
    assert best.missing_ul() <= kept(films, sheet, lots, begun, Habit()).missing_ul()
    if not ledger.shorts:
        assert sum(e.begins == "opened" for e in ledger.entries) >= least.packs
        assert ledger.spent_ppm({"P": sheet}) >= least.spent_ppm


@settings(max_examples=150)
@given(films=FILMS, sheet=sheets(), lots=LOTS, begun=BEGUN)
def test_what_is_looked_ahead_for_can_be_done(films: list[Film], sheet: PackSheet, lots: list[Lot], begun: list[Begun]) -> None:
    """With warmers enough the ledger resumes the very packs that were chosen for each film."""
    lots = sorted(lots, key=lambda lot: lot.last)
    chosen = look_ahead(films, sheet, lots, begun, lambda _film: 9, width=3)
    ledger = keep_ledger(films, {"P": sheet}, lots, begun, room=always, chosen=chosen)
    for film in films:
        resumed = [e.pack for e in ledger.entries if e.film == film.key and e.begins == "resumed"]
        assert tuple(resumed) == chosen[film.key]


def test_looking_ahead_keeps_a_leftover_for_the_film_that_it_fits() -> None:
    """Films of 40, 55, 60 and 45 from packs of 110 with a recap purge of 10: 40 + 10 + 60 and 55 + 10 + 45 fill two packs."""
    sheet = PackSheet(110, 0, 0, 10, (60,) * 60, tuple(range(61)))
    films = [Film(k, "P", 5 * k, 5 * k + 2, ul) for k, ul in enumerate((40, 55, 60, 45))]
    lots = [Lot("L", "P", 9, 0, 60)]
    best = best_ledger(films, {"P": sheet}, lots, ())
    assert sum(e.begins == "opened" for e in best.entries) == 2


@pytest.mark.parametrize(("packs", "many", "ledgers"), [(9, 500, 5), (9, 3, 2), (1, 3, 5)], ids=["few", "many", "lack"])
def test_habits_are_left_out_where_films_are_many_and_looking_ahead_serves_them_all(
    monkeypatch: pytest.MonkeyPatch, packs: int, many: int, ledgers: int
) -> None:
    """Each habit, a look ahead and the one that is kept, with its reasons: five ledgers without warmers, two with many films."""
    kept_by = list[bool]()

    def counted(*args: Any, explain: bool, **kwargs: Any) -> Ledger:
        kept_by.append(explain)
        return keep_ledger(*args, explain=explain, **kwargs)

    monkeypatch.setattr("scheduler.material.best_ledger.keep_ledger", counted)
    monkeypatch.setattr("scheduler.material.best_ledger.MANY", many)
    sheet = PackSheet(110, 0, 0, 10, (60,) * 60, tuple(range(61)))
    films = [Film(k, "P", 5 * k, 5 * k + 2, ul) for k, ul in enumerate((40, 55, 60, 45))]
    best = best_ledger(films, {"P": sheet}, [Lot("L", "P", packs, 0, 60)], ())
    assert bool(best.shorts) == (packs == 1)
    assert kept_by == [False] * (ledgers - 1) + [True]
