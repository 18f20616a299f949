"""Which opened packs each film should take, looked for ahead: a beam search over the films of a product in the order of time.

A habit decides film by film. Here several ways to go on are kept beside each other: leave every opened pack standing, take
one, two, or all that are ready. After each film the ways are weighed by what they have spent less what their leftovers are
worth for the films to come, and the best of them are kept. The ledger is then kept by the choices found, so that what is
warm, in date and free is decided in one place.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from scheduler.material.entries import PPM
from scheduler.material.pack import Begun, Film, Lot, PackSheet

SOME, MOST = 5, 6
"""Opened packs that are looked at one by one and in pairs for a film, and the most that it empties."""
WORTH: Final = 0.9
"""What a leftover is worth, as a share of what it can still put on the work."""
Choices = Mapping[int, tuple[str, ...]]
"""Opened packs that a film takes, in this order, by the film's key."""
Spare = Callable[[Film], int]
"""Warmer slots beyond those that a film has reserved."""


@dataclass(frozen=True, slots=True)
class _Held:
    """A pack that stands opened."""

    left_ul: int
    free: int
    last: int
    first: int
    key: str


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to have served the films so far; ``before`` and ``took`` lead back to the first."""

    spent: int
    held: tuple[_Held, ...]
    taken: tuple[int, ...]
    before: "_Way | None" = None
    film: int = -1
    took: tuple[str, ...] = ()


def look_ahead(
    films: Sequence[Film], sheet: PackSheet, lots: Sequence[Lot], begun: Sequence[Begun], spare: Spare, width: int
) -> Choices:
    """Choose the opened packs of every film of one product.

    Parameters
    ----------
    films : sequence of Film
        Of one product.
    lots, begun : sequence
        Of that product.
    spare : callable
    width : int
        Ways that are kept after each film.
    """
    beam = _Beam(sheet, lots, spare)
    held = tuple(_Held(b.left_ul, 0, b.last, b.first, b.key) for b in begun)
    ways, to_come_ul = [_Way(0, held, tuple(0 for _ in lots))], sum(film.volume_ul for film in films)
    for film in sorted(films, key=lambda f: (f.start, f.end, f.key)):
        to_come_ul -= film.volume_ul
        ways = beam.best([after for way in ways for after in beam.after(way, film)], to_come_ul, width)
    return dict(_path(min(ways, key=lambda way: way.spent)))


def _path(way: _Way) -> Iterator[tuple[int, tuple[str, ...]]]:
    at: _Way | None = way
    while at is not None and at.before is not None:
        yield at.film, at.took
        at = at.before


class _Beam:
    """The ways to go on with a film, and how good they are."""

    def __init__(self, sheet: PackSheet, lots: Sequence[Lot], spare: Spare) -> None:
        self.sheet, self.lots, self.spare = sheet, lots, spare
        self.lost_ul = sheet.heel_ul + sheet.recap_ul
        self.start_ppm, self.recap_ppm = (-(-PPM * ul // sheet.full_ul) for ul in (sheet.start_ul, sheet.recap_ul))

    def best(self, ways: list[_Way], to_come_ul: int, width: int) -> list[_Way]:
        """Return the best ways, one of those that leave the same."""
        seen: dict[tuple[object, ...], _Way] = {}
        for way in ways:
            alike = (way.taken, tuple(sorted((h.left_ul, h.free, h.last) for h in way.held)))
            if alike not in seen or way.spent < seen[alike].spent:
                seen[alike] = way
        most = PPM * to_come_ul / self.sheet.usable_ul
        return sorted(seen.values(), key=lambda way: way.spent - min(most, sum(map(self._worth, way.held))))[:width]

    def _worth(self, held: _Held) -> float:
        return max(0.0, WORTH * PPM * (held.left_ul - self.lost_ul) / self.sheet.usable_ul - self.recap_ppm)

    def after(self, way: _Way, film: Film) -> Iterator[_Way]:
        """Yield the ways to serve a film."""
        reserved = -(-film.volume_ul // self.sheet.usable_ul)
        most = reserved + self.spare(film)
        for chosen in self._options(way, film):
            gives_ul = sum(h.left_ul - self.lost_ul for h in chosen)
            new = max(0, -(-(film.volume_ul - gives_ul) // self.sheet.usable_ul))
            if not chosen or film.loaded is None or len(chosen) + new <= most:
                yield self._serve(way, film, chosen)

    def _options(self, way: _Way, film: Film) -> Iterator[tuple[_Held, ...]]:
        """Opened packs to take, in order: none, one, two, or the smallest of those that are ready, emptied in turn."""
        yield ()
        ready = sorted((h for h in way.held if self._is_ready(h, film)), key=lambda h: (h.left_ul, h.last))
        some = self._some(ready, film)
        yield from ((h,) for h in some)
        short = [h for h in some if h.left_ul - self.lost_ul < film.volume_ul]
        for one, two in combinations(short, 2):
            yield one, two
            if one.left_ul + two.left_ul - 2 * self.lost_ul > film.volume_ul:
                yield two, one
        for count in range(3, min(MOST, len(ready)) + 1):
            yield tuple(ready[:count])

    def _some(self, ready: list[_Held], film: Film) -> list[_Held]:
        """Packs worth a look, in order of size: the smallest, the largest, those that lapse first, those that fit best."""
        if len(ready) <= SOME:
            return ready
        usable_ul = self.sheet.usable_ul
        odd_ul = film.volume_ul - (-(-film.volume_ul // usable_ul) - 1) * usable_ul
        fit = [h for h in ready if h.left_ul - self.lost_ul >= odd_ul]
        picked = [*fit[:2], ready[0], ready[-1], *sorted(ready, key=lambda h: h.last)[:1]]
        return sorted(set(picked), key=lambda h: (h.left_ul, h.last, h.key))

    def _is_ready(self, held: _Held, film: Film) -> bool:
        in_date = held.first <= film.start and film.end <= held.last
        return in_date and held.free <= film.start and held.left_ul > self.lost_ul

    def _serve(self, way: _Way, film: Film, chosen: tuple[_Held, ...]) -> _Way:
        left_ul, held = film.volume_ul, [h for h in way.held if h not in chosen and h.last > film.start]
        took = []
        for pack in chosen:
            sprayed_ul = min(left_ul, pack.left_ul - self.lost_ul)
            if sprayed_ul <= 0:
                held.append(pack)
                continue
            left_ul -= sprayed_ul
            took.append(pack.key)
            rest_ul = pack.left_ul - self.sheet.recap_ul - sprayed_ul
            if rest_ul > self.lost_ul:
                held.append(_Held(rest_ul, self.sheet.back[film.end], pack.last, pack.first, pack.key))
        spent, taken = way.spent + self.recap_ppm * len(took), way.taken
        if left_ul > 0:
            spent, taken = self._open(film, left_ul, spent, list(way.taken), held)
        return _Way(spent, tuple(held), taken, way, film.key, tuple(took))

    def _open(self, film: Film, left_ul: int, spent: int, taken: list[int], held: list[_Held]) -> tuple[int, tuple[int, ...]]:
        """Open new packs, the lot that expires first before the others; what is missing weighs more than any pack."""
        there = film.start if film.loaded is None else film.loaded
        for k, lot in enumerate(self.lots):
            if lot.first > there or film.end > lot.last:
                continue
            new = min(lot.packs - taken[k], -(-left_ul // self.sheet.usable_ul))
            if new <= 0:
                continue
            taken[k], spent, left_ul = taken[k] + new, spent + new * (PPM + self.start_ppm), left_ul - new * self.sheet.usable_ul
            if left_ul <= 0:
                rest_ul, last = self.sheet.heel_ul - left_ul, min(lot.last, self.sheet.lapses[film.start])
                if rest_ul > self.lost_ul:
                    key = f"{lot.key}#{lot.opened_before + taken[k]:03d}"
                    held.append(_Held(rest_ul, self.sheet.back[film.end], last, film.start, key))
                return spent, tuple(taken)
        return spent + 10 * PPM * (1 + left_ul // self.sheet.usable_ul), tuple(taken)
