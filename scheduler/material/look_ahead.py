"""Which opened packs each film should take, looked for ahead: a beam search over the films of a product in the order of time.

A habit decides film by film. Here several ways to go on are kept beside each other: leave every opened pack standing, take
one, two, or all that are ready. After each film the ways are weighed by what they have spent less what their leftovers are
worth for the films to come, and the best of them are kept. The ledger is then kept by the choices found, so that what is
warm, in date and free is decided in one place.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import combinations, islice
from typing import Final

from scheduler.material.entries import PPM
from scheduler.material.pack import Begun, Film, Lot, PackSheet
from scheduler.material.ways import Held, Next, Way, first_way

SOME, MOST = 5, 6
"""Opened packs that are looked at one by one and in pairs for a film, and the most that it empties."""
WORTH: Final = 0.9
"""What a leftover is worth, as a share of what it can still put on the work."""
Choices = Mapping[int, tuple[str, ...]]
"""Opened packs that a film takes, in this order, by the film's key."""
Spare = Callable[[Film], int]
"""Warmer slots beyond those that a film has reserved."""


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
    beam = _Beam(sheet, lots)
    held = tuple(beam.held(b.left_ul, 0, b.last, b.first, b.key) for b in begun)
    ways, to_come_ul = [first_way(held, len(lots))], sum(film.volume_ul for film in films)
    for film in sorted(films, key=lambda f: (f.start, f.end, f.key)):
        to_come_ul -= film.volume_ul
        free = 0 if film.loaded is None else spare(film)
        there = [way.at(film.start) for way in ways]
        ways = beam.best([after for way in there for after in beam.after(way, film, free)], to_come_ul, width)
    return dict(min(ways, key=lambda way: way.spent).path())


class _Beam:
    """The ways to go on with a film, and how good they are."""

    def __init__(self, sheet: PackSheet, lots: Sequence[Lot]) -> None:
        self.sheet, self.lots, self.usable_ul = sheet, lots, sheet.usable_ul
        self.lost_ul = sheet.heel_ul + sheet.recap_ul
        self.start_ppm, self.recap_ppm = (-(-PPM * ul // sheet.full_ul) for ul in (sheet.start_ul, sheet.recap_ul))

    def held(self, left_ul: int, free: int, last: int, first: int, key: str) -> Held:
        """Return a pack that stands opened, with what it is worth for the films to come."""
        worth = round(WORTH * PPM * (left_ul - self.lost_ul) / self.usable_ul) - self.recap_ppm
        return Held(left_ul, free, last, first, key, max(0, worth), hash((left_ul, free, last)))

    def best(self, found: list[Next], to_come_ul: int, width: int) -> list[Way]:
        """Return the best ways, one of those that leave the same."""
        seen: dict[tuple[tuple[int, ...], int], Next] = {}
        for after in found:
            other = seen.get((after.taken, after.alike))
            if other is None or after.spent < other.spent:
                seen[after.taken, after.alike] = after
        most = PPM * to_come_ul // self.usable_ul
        return [after.way() for after in sorted(seen.values(), key=lambda way: way.spent - min(most, way.worth))[:width]]

    def after(self, way: Way, film: Film, free: int) -> Iterator[Next]:
        """Yield the ways to serve a film, with so many warmer slots free for leftovers."""
        reserved = -(-film.volume_ul // self.usable_ul)
        free -= way.warming(film.loaded)
        for chosen in self._options(way, film):
            gives_ul = sum([h.left_ul for h in chosen]) - len(chosen) * self.lost_ul
            new = max(0, -(-(film.volume_ul - gives_ul) // self.usable_ul))
            beyond = 0 if film.loaded is None else max(0, len(chosen) + new - reserved)
            if beyond == 0 or beyond <= free:
                yield self._serve(way, film, chosen, beyond)

    def _options(self, way: Way, film: Film) -> Iterator[tuple[Held, ...]]:
        """Opened packs to take, in order: none, one, two, or the smallest of those that are ready, emptied in turn."""
        yield ()
        start, end, lost_ul = film.start, film.end, self.lost_ul
        ready = [h for h in way.held if h.free <= start and h.last >= end and h.first <= start and h.left_ul > lost_ul]
        ready.sort(key=lambda h: (h.left_ul, h.last))
        some = self._some(ready, film)
        yield from ((h,) for h in some)
        short = [h for h in some if h.left_ul - lost_ul < film.volume_ul]
        for one, two in combinations(short, 2):
            yield one, two
            if one.left_ul + two.left_ul - 2 * lost_ul > film.volume_ul:
                yield two, one
        for count in range(3, min(MOST, len(ready)) + 1):
            yield tuple(ready[:count])

    def _some(self, ready: list[Held], film: Film) -> list[Held]:
        """Packs worth a look, in order of size: the smallest, the largest, those that lapse first, those that fit best."""
        if len(ready) <= SOME:
            return ready
        odd_ul = film.volume_ul - (-(-film.volume_ul // self.usable_ul) - 1) * self.usable_ul
        fit = islice((h for h in ready if h.left_ul - self.lost_ul >= odd_ul), 2)
        picked = {h.key: h for h in (*fit, ready[0], ready[-1], min(ready, key=lambda h: h.last))}
        return sorted(picked.values(), key=lambda h: (h.left_ul, h.last, h.key))

    def _serve(self, way: Way, film: Film, chosen: tuple[Held, ...], beyond: int) -> Next:
        left_ul, took, came = film.volume_ul, [], []
        for pack in chosen:
            sprayed_ul = min(left_ul, pack.left_ul - self.lost_ul)
            if sprayed_ul <= 0:
                break
            left_ul -= sprayed_ul
            took.append(pack)
            rest_ul = pack.left_ul - self.sheet.recap_ul - sprayed_ul
            if rest_ul > self.lost_ul:
                came.append(self.held(rest_ul, self.sheet.back[film.end], pack.last, pack.first, pack.key))
        spent, taken = way.spent + self.recap_ppm * len(took), way.taken
        if left_ul > 0:
            spent, taken = self._open(film, left_ul, spent, list(taken), came)
        return Next(way, film, spent, taken, tuple(took), tuple(came), beyond)

    def _open(self, film: Film, left_ul: int, spent: int, taken: list[int], came: list[Held]) -> tuple[int, tuple[int, ...]]:
        """Open new packs, the lot that expires first before the others; what is missing weighs more than any pack."""
        there = film.start if film.loaded is None else film.loaded
        for k, lot in enumerate(self.lots):
            if lot.first > there or film.end > lot.last:
                continue
            new = min(lot.packs - taken[k], -(-left_ul // self.usable_ul))
            if new <= 0:
                continue
            taken[k], spent, left_ul = taken[k] + new, spent + new * (PPM + self.start_ppm), left_ul - new * self.usable_ul
            if left_ul <= 0:
                rest_ul, last = self.sheet.heel_ul - left_ul, min(lot.last, self.sheet.lapses[film.start])
                if rest_ul > self.lost_ul:
                    key = f"{lot.key}#{lot.opened_before + taken[k]:03d}"
                    came.append(self.held(rest_ul, self.sheet.back[film.end], last, film.start, key))
                return spent, tuple(taken)
        return spent + 10 * PPM * (1 + left_ul // self.usable_ul), tuple(taken)
