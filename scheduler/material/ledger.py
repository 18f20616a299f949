"""The cartridge ledger: every film's volume drawn from named packs, opened ones first, first expired first out.

Films are served in the order of their starts. A film that a single opened pack can complete takes it from the one that
lapses first. Where none can, a habit decides: finish an opened pack and go on with a new one, which costs another mixer
and purge, or leave it for a film that it suits better, as long as no more than ``keep`` packs stand opened.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from scheduler.material.pack import Begun, Film, Lot, PackSheet

PPM = 1_000_000
Begins = Literal["opened", "resumed", "continued"]
Room = Callable[[int, int, int], bool]
"""Whether warmers have so many more slots free from slot to slot; true books them."""


@dataclass(frozen=True, slots=True)
class Habit:
    """How opened packs are chosen: how many may stand opened, and whether the smallest that will do goes first."""

    keep: int = 2
    best_fit: bool = False


@dataclass(frozen=True, slots=True)
class Passed:
    """An opened pack that a film did not take, and why.

    ``why`` is ``in use`` or ``not warm again`` (until ``slot``), ``lapsed``, ``no warm slot``, or ``kept``: it would have
    cost one more mixer and purge without saving a new pack.
    """

    pack: str
    why: str
    slot: int


@dataclass(frozen=True, slots=True)
class Entry:
    """What one pack gives to one film, in microlitres.

    Attributes
    ----------
    begins : str
        ``opened``, ``resumed`` or ``continued``.
    loaded : int or None
        Slot at which it goes into a warmer.
    passed : tuple of Passed
        For a pack opened anew, those that stood opened.
    """

    film: int
    product: str
    pack: str
    lot: str
    begins: Begins
    purge_ul: int
    sprayed_ul: int
    left_ul: int
    loaded: int | None
    passed: tuple[Passed, ...] = ()


@dataclass(frozen=True, slots=True)
class Short:
    """A film for which nothing in date is left, and what it lacks."""

    film: int
    product: str
    missing_ul: int


@dataclass(frozen=True, slots=True)
class Ledger:
    """All entries in the order of time, and the films that starve."""

    entries: tuple[Entry, ...]
    shorts: tuple[Short, ...]

    def spent_ppm(self, sheets: Mapping[str, PackSheet]) -> int:
        """Packs opened anew and what went to waste at starts, in millionths of a pack."""
        opened = PPM * sum(entry.begins == "opened" for entry in self.entries)
        return opened + sum(-(-PPM * entry.purge_ul // sheets[entry.product].full_ul) for entry in self.entries)

    def missing_ul(self) -> int:
        """What is lacking over all films."""
        return sum(short.missing_ul for short in self.shorts)


@dataclass(slots=True)
class _Pack:
    key: str
    lot: str
    left_ul: int
    first: int
    last: int
    free_from: int = 0
    used_until: int = -1
    gun: str = ""


@dataclass(slots=True)
class _Shelf:
    """Packs of one product."""

    sheet: PackSheet
    lots: list[Lot]
    standing: list[_Pack]
    taken: dict[str, int] = field(default_factory=dict)
    empty_ul: int = 0
    """What is in a pack that cannot be started again."""


def keep_ledger(
    films: Iterable[Film],
    sheets: Mapping[str, PackSheet],
    lots: Sequence[Lot],
    begun: Sequence[Begun],
    habits: Mapping[str, Habit] | None = None,
    room: Room | None = None,
    *,
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
    explain : bool
        Whether to say of each new pack why those that stood opened were passed; a search that weighs thousands of ledgers
        leaves it out.
    """
    shelves = {product: _shelf(product, sheet, lots, begun) for product, sheet in sheets.items()}
    entries: list[Entry] = []
    shorts: list[Short] = []
    for film in sorted(films, key=lambda f: (f.start, f.end, f.key)):
        habit = (habits or {}).get(film.product, Habit())
        missing_ul = _serve(film, shelves[film.product], habit, room, entries, explain=explain)
        if missing_ul > 0:
            shorts.append(Short(film.key, film.product, missing_ul))
    return Ledger(tuple(entries), tuple(shorts))


def _shelf(product: str, sheet: PackSheet, lots: Sequence[Lot], begun: Sequence[Begun]) -> _Shelf:
    standing = [_Pack(b.key, b.lot, b.left_ul, b.first, b.last) for b in begun if b.product == product]
    empty_ul = sheet.heel_ul + (0 if sheet.goes_on else sheet.recap_ul)
    return _Shelf(sheet, [lot for lot in lots if lot.product == product], standing, empty_ul=empty_ul)


def _serve(film: Film, shelf: _Shelf, habit: Habit, room: Room | None, entries: list[Entry], *, explain: bool) -> int:
    """Draw a film's volume; what is missing is returned."""
    left_ul, touched, refused = film.volume_ul, 0, set[str]()
    allowed = -(-film.volume_ul // shelf.sheet.usable_ul)
    for pack, begins in _standing(film, shelf, habit):
        if left_ul <= 0:
            break
        if not _worth_starting(shelf, habit, pack, begins, left_ul):
            continue
        needs = touched + 1 + max(0, -(-(left_ul - _gives(shelf.sheet, pack, begins)) // shelf.sheet.usable_ul))
        if film.loaded is not None and needs > allowed:
            if room is None or not room(film.loaded, film.end, needs - allowed):
                refused.add(pack.key)
                continue
            allowed = needs
        left_ul, touched = left_ul - _draw(film, shelf, pack, begins, left_ul, entries), touched + 1
    while left_ul > 0 and (new := _open(film, shelf)) is not None:
        passed = _passed(film, shelf, entries, refused) if explain else ()
        shelf.standing.append(new)
        left_ul -= _draw(film, shelf, new, "opened", left_ul, entries, passed)
    shelf.standing = [pack for pack in shelf.standing if pack.left_ul > shelf.empty_ul and pack.last > film.start]
    return left_ul


def _standing(film: Film, shelf: _Shelf, habit: Habit) -> Iterator[tuple[_Pack, Begins]]:
    """Opened packs that the film may use: one that is in its gun, then those that fit, then by lapse or by size."""
    sheet = shelf.sheet
    ready: list[tuple[_Pack, Begins]] = []
    for pack in shelf.standing:
        begins = _begins(film, pack)
        if _why_not(film, sheet, pack, begins) == "":
            ready.append((pack, begins))
    odd_ul = film.volume_ul - (-(-film.volume_ul // sheet.usable_ul) - 1) * sheet.usable_ul

    def rank(row: tuple[_Pack, Begins]) -> tuple[bool, bool, int, int]:
        pack, begins = row
        gives = _gives(sheet, pack, begins)
        size = gives if habit.best_fit else 0
        return begins != "continued", gives < odd_ul, size, pack.last

    return iter(sorted(ready, key=rank))


def _begins(film: Film, pack: _Pack) -> Begins:
    return "continued" if film.gun and pack.gun == film.gun and pack.used_until == film.start else "resumed"


def _why_not(film: Film, sheet: PackSheet, pack: _Pack, begins: Begins) -> str:
    """Why a film cannot use an opened pack; empty if it can."""
    if _gives(sheet, pack, begins) <= 0:
        return "empty"
    if film.end > pack.last or film.start < pack.first:
        return "lapsed"
    if pack.used_until > film.start:
        return "in use"
    if begins == "resumed" and pack.free_from > film.start:
        return "not warm again"
    return ""


def _gives(sheet: PackSheet, pack: _Pack, begins: Begins) -> int:
    purge_ul = {"opened": sheet.start_ul, "resumed": sheet.recap_ul, "continued": 0}[begins]
    return pack.left_ul - sheet.heel_ul - purge_ul


def _worth_starting(shelf: _Shelf, habit: Habit, pack: _Pack, begins: Begins, left_ul: int) -> bool:
    """Whether an opened pack saves a new one now; if not it is only finished when too many stand opened."""
    usable_ul = shelf.sheet.usable_ul
    gives = _gives(shelf.sheet, pack, begins)
    saves = -(-max(0, left_ul - gives) // usable_ul) < -(-left_ul // usable_ul)
    if saves or begins == "continued":
        return True
    return len(shelf.standing) >= habit.keep


def _draw(
    film: Film,
    shelf: _Shelf,
    pack: _Pack,
    begins: Begins,
    wanted_ul: int,
    entries: list[Entry],
    passed: tuple[Passed, ...] = (),
) -> int:
    sheet = shelf.sheet
    sprayed_ul = min(wanted_ul, _gives(sheet, pack, begins))
    purge_ul = {"opened": sheet.start_ul, "resumed": sheet.recap_ul, "continued": 0}[begins]
    loaded = _loaded(film, pack, begins)
    pack.left_ul -= purge_ul + sprayed_ul
    pack.used_until, pack.free_from, pack.gun = film.end, sheet.back[film.end], film.gun
    entries.append(Entry(film.key, film.product, pack.key, pack.lot, begins, purge_ul, sprayed_ul, pack.left_ul, loaded, passed))
    return sprayed_ul


def _loaded(film: Film, pack: _Pack, begins: Begins) -> int | None:
    """Slot at which the pack goes into a warmer for the film: with the others, or when its last use has ended."""
    if film.loaded is None or begins == "continued":
        return None
    return max(film.loaded, pack.used_until)


def _open(film: Film, shelf: _Shelf) -> _Pack | None:
    """Take a new pack of the first lot that is there when the film's packs are warmed, and in date to its end."""
    for lot in shelf.lots:
        number = shelf.taken.get(lot.key, 0)
        there = film.start if film.loaded is None else film.loaded
        if number < lot.packs and lot.first <= there and film.end <= lot.last:
            shelf.taken[lot.key] = number + 1
            last = min(lot.last, shelf.sheet.lapses[film.start])
            return _Pack(f"{lot.key}#{lot.opened_before + number + 1:03d}", lot.key, shelf.sheet.full_ul, film.start, last)
    return None


def _passed(film: Film, shelf: _Shelf, entries: list[Entry], refused: set[str]) -> tuple[Passed, ...]:
    """Opened packs with something left that the film leaves standing, each with the reason."""
    used = set()
    for entry in reversed(entries):
        if entry.film != film.key:
            break
        used.add(entry.pack)
    rows = []
    for pack in shelf.standing:
        if pack.key in used or _gives(shelf.sheet, pack, "resumed") <= 0:
            continue
        why = _why_not(film, shelf.sheet, pack, _begins(film, pack)) or ("no warm slot" if pack.key in refused else "kept")
        rows.append(Passed(pack.key, why, {"in use": pack.used_until, "not warm again": pack.free_from}.get(why, pack.last)))
    return tuple(rows)
