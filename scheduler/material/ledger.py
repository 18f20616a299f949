"""The cartridge ledger: every film's volume drawn from named packs, opened ones first, first expired first out.

Films are served in the order of their starts. A film that a single opened pack can complete takes it from the one that
lapses first. Where none can, a habit decides: finish an opened pack and go on with a new one, which costs another mixer
and purge, or leave it for a film that it suits better, as long as no more than ``keep`` packs stand opened.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence

from scheduler.material.entries import Begins, Entry, Habit, Ledger, Passed, Short
from scheduler.material.pack import Begun, Film, Lot, PackSheet
from scheduler.material.shelf import (
    Pack,
    Ready,
    Shelf,
    begins_as,
    gives_ul,
    loaded_at,
    open_new,
    purge_ul,
    ready_packs,
    shelf_of,
    why_not,
)

NAMED = 3
"""Opened packs that a reason for a new one names at the most."""
Room = Callable[[int, int, int], bool]
"""Whether warmers have so many more slots free from slot to slot; true books them."""


def keep_ledger(
    films: Iterable[Film],
    sheets: Mapping[str, PackSheet],
    lots: Sequence[Lot],
    begun: Sequence[Begun],
    habits: Mapping[str, Habit] | None = None,
    room: Room | None = None,
    *,
    chosen: Mapping[int, tuple[str, ...]] | None = None,
    explain: bool = True,
) -> Ledger:
    """Serve films from packs.

    Parameters
    ----------
    films : iterable of Film
        In any order.
    sheets : mapping
        By product.
    lots, begun : sequence
        What is or will be there; lots of a product in the order in which they should be used up.
    habits : mapping, optional
        By product.
    room : callable, optional
        Asked for warmer slots beyond those that a film has reserved for ``ceil(volume / usable)`` packs; without it
        there are none.
    chosen : mapping, optional
        Opened packs that a film takes, in this order, by the film's key; the habit decides for the others.
    explain : bool
        Whether to say of each new pack why those that stood opened were passed; a search that weighs thousands of ledgers
        leaves it out.
    """
    shelves = {product: shelf_of(product, sheet, lots, begun) for product, sheet in sheets.items()}
    entries: list[Entry] = []
    shorts: list[Short] = []
    for film in sorted(films, key=lambda f: (f.start, f.end, f.key)):
        habit = (habits or {}).get(film.product, Habit())
        named = (chosen or {}).get(film.key)
        missing_ul = _serve(film, shelves[film.product], habit, room, entries, named, explain=explain)
        if missing_ul > 0:
            shorts.append(Short(film.key, film.product, missing_ul))
    return Ledger(tuple(entries), tuple(shorts))


def _serve(
    film: Film,
    shelf: Shelf,
    habit: Habit,
    room: Room | None,
    entries: list[Entry],
    named: tuple[str, ...] | None,
    *,
    explain: bool,
) -> int:
    """Draw a film's volume; what is missing is returned."""
    usable_ul, many = shelf.sheet.usable_ul, len(shelf.standing) >= habit.keep
    left_ul, touched, refused = film.volume_ul, 0, set[str]()
    allowed = packs = -(-left_ul // usable_ul)
    for pack, begins, there_ul in _in_order(film, shelf, habit, named):
        if left_ul <= 0:
            break
        after = max(0, -(-(left_ul - there_ul) // usable_ul))
        if named is None and not (after < packs or begins == "continued" or many):
            continue  # it saves no new pack, and there is room to let it stand
        if film.loaded is not None and touched + 1 + after > allowed:
            if room is None or not room(film.loaded, film.end, touched + 1 + after - allowed):
                refused.add(pack.key)
                continue
            allowed = touched + 1 + after
        left_ul, touched = left_ul - _draw(film, shelf, pack, begins, left_ul, entries), touched + 1
        packs = -(-left_ul // usable_ul)
    while left_ul > 0 and (new := open_new(film, shelf)) is not None:
        passed, more = _passed(film, shelf, entries, refused) if explain else ((), 0)
        shelf.standing.append(new)
        left_ul -= _draw(film, shelf, new, "opened", left_ul, entries, passed, more)
    shelf.standing = [pack for pack in shelf.standing if pack.left_ul > shelf.empty_ul and pack.last > film.start]
    return left_ul


def _in_order(film: Film, shelf: Shelf, habit: Habit, named: tuple[str, ...] | None) -> list[Ready]:
    """Opened packs that the film may use: those named, or one that is in its gun, then those that fit, by lapse or by size."""
    ready = ready_packs(film, shelf)
    if named is not None:
        return sorted((row for row in ready if row[0].key in named), key=lambda row: named.index(row[0].key))
    odd_ul = film.volume_ul - (-(-film.volume_ul // shelf.sheet.usable_ul) - 1) * shelf.sheet.usable_ul
    if habit.best_fit:
        return sorted(ready, key=lambda row: (row[1] != "continued", row[2] < odd_ul, row[2], row[0].last))
    return sorted(ready, key=lambda row: (row[1] != "continued", row[2] < odd_ul, row[0].last))


def _draw(
    film: Film,
    shelf: Shelf,
    pack: Pack,
    begins: Begins,
    wanted_ul: int,
    entries: list[Entry],
    passed: tuple[Passed, ...] = (),
    more: int = 0,
) -> int:
    sheet = shelf.sheet
    sprayed_ul = min(wanted_ul, gives_ul(sheet, pack, begins))
    wasted_ul, loaded = purge_ul(sheet, begins), loaded_at(film, pack, begins)
    pack.left_ul -= wasted_ul + sprayed_ul
    pack.used_until, pack.free_from, pack.gun = film.end, sheet.back[film.end], film.gun
    key, product = film.key, film.product
    entries.append(Entry(key, product, pack.key, pack.lot, begins, wasted_ul, sprayed_ul, pack.left_ul, loaded, passed, more))
    return sprayed_ul


def _passed(film: Film, shelf: Shelf, entries: list[Entry], refused: set[str]) -> tuple[tuple[Passed, ...], int]:
    """Opened packs with something left that the film leaves standing: the first with the reason, and how many there are more."""
    used = set()
    for entry in reversed(entries):
        if entry.film != film.key:
            break
        used.add(entry.pack)
    lost_ul = shelf.sheet.heel_ul + shelf.sheet.recap_ul
    left = [pack for pack in shelf.standing if pack.left_ul > lost_ul and pack.key not in used]
    rows = []
    for pack in left[:NAMED]:
        why = why_not(film, shelf.sheet, pack, begins_as(film, pack)) or ("no warm slot" if pack.key in refused else "kept")
        rows.append(Passed(pack.key, why, {"in use": pack.used_until, "not warm again": pack.free_from}.get(why, pack.last)))
    return tuple(rows), len(left) - len(rows)
