"""Packs of one product while a ledger is kept: what stands opened, what each may give, and the next new one."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from scheduler.material.entries import Begins
from scheduler.material.pack import Begun, Film, Lot, PackSheet


@dataclass(slots=True)
class Pack:
    """A pack that stands opened: what is left in it with its heel, and from when and until when it may be used."""

    key: str
    lot: str
    left_ul: int
    first: int
    last: int
    free_from: int = 0
    used_until: int = -1
    gun: str = ""


@dataclass(slots=True)
class Shelf:
    """Packs of one product."""

    sheet: PackSheet
    lots: list[Lot]
    standing: list[Pack]
    taken: dict[str, int] = field(default_factory=dict)
    empty_ul: int = 0
    """What is in a pack that cannot be started again."""


def shelf_of(product: str, sheet: PackSheet, lots: Sequence[Lot], begun: Sequence[Begun]) -> Shelf:
    """Packs of a product as they stand before the first film."""
    standing = [Pack(b.key, b.lot, b.left_ul, b.first, b.last) for b in begun if b.product == product]
    empty_ul = sheet.heel_ul + (0 if sheet.goes_on else sheet.recap_ul)
    return Shelf(sheet, [lot for lot in lots if lot.product == product], standing, empty_ul=empty_ul)


def begins_as(film: Film, pack: Pack) -> Begins:
    """How a film would begin with an opened pack: a gun that has just sprayed from it goes on without a purge."""
    return "continued" if film.gun and pack.gun == film.gun and pack.used_until == film.start else "resumed"


Ready = tuple[Pack, Begins, int]
"""A pack that a film can use, how the film begins with it, and what it can put on the work."""


def ready_packs(film: Film, shelf: Shelf) -> list[Ready]:
    """Opened packs that a film can use: those for which :func:`why_not` has no reason, found without asking each."""
    sheet, start, end, gun = shelf.sheet, film.start, film.end, film.gun
    most_ul, resumed_ul = sheet.heel_ul, sheet.heel_ul + sheet.recap_ul
    ready: list[Ready] = []
    for pack in shelf.standing:
        if pack.used_until > start or end > pack.last or start < pack.first:
            continue
        if gun and pack.gun == gun and pack.used_until == start:
            if pack.left_ul > most_ul:
                ready.append((pack, "continued", pack.left_ul - most_ul))
        elif pack.free_from <= start and pack.left_ul > resumed_ul:
            ready.append((pack, "resumed", pack.left_ul - resumed_ul))
    return ready


def why_not(film: Film, sheet: PackSheet, pack: Pack, begins: Begins) -> str:
    """Why a film cannot use an opened pack; empty if it can."""
    if gives_ul(sheet, pack, begins) <= 0:
        return "empty"
    if film.end > pack.last or film.start < pack.first:
        return "lapsed"
    if pack.used_until > film.start:
        return "in use"
    if begins == "resumed" and pack.free_from > film.start:
        return "not warm again"
    return ""


def gives_ul(sheet: PackSheet, pack: Pack, begins: Begins) -> int:
    """What a pack can put on the work after its purge."""
    return pack.left_ul - sheet.heel_ul - purge_ul(sheet, begins)


def purge_ul(sheet: PackSheet, begins: Begins) -> int:
    """What goes to waste before a pack sprays."""
    if begins == "resumed":
        return sheet.recap_ul
    return sheet.start_ul if begins == "opened" else 0


def loaded_at(film: Film, pack: Pack, begins: Begins) -> int | None:
    """Slot at which the pack goes into a warmer for the film: with the others, or when its last use has ended."""
    if film.loaded is None or begins == "continued":
        return None
    return max(film.loaded, pack.used_until)


def open_new(film: Film, shelf: Shelf) -> Pack | None:
    """Take a new pack of the first lot that is there when the film's packs are warmed, and in date to its end."""
    for lot in shelf.lots:
        number = shelf.taken.get(lot.key, 0)
        there = film.start if film.loaded is None else film.loaded
        if number < lot.packs and lot.first <= there and film.end <= lot.last:
            shelf.taken[lot.key] = number + 1
            last = min(lot.last, shelf.sheet.lapses[film.start])
            return Pack(f"{lot.key}#{lot.opened_before + number + 1:03d}", lot.key, shelf.sheet.full_ul, film.start, last)
    return None
