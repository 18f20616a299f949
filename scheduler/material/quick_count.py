"""What a ledger comes to, without writing it: for searches that ask thousands of times.

The answer is that of :func:`scheduler.material.ledger.keep_ledger` with the usual habit, no guns named and a warmer slot
free for every leftover; a test holds the two together. Whole packs that one film uses up are counted at once.
"""

from collections.abc import Iterable, Mapping, Sequence

from scheduler.material.entries import PPM, Habit
from scheduler.material.pack import Begun, Film, Lot, PackSheet

_LEFT, _FIRST, _LAST, _FREE = range(4)
_Standing = list[int]


def count(films: Iterable[Film], sheets: Mapping[str, PackSheet], lots: Sequence[Lot], begun: Sequence[Begun]) -> tuple[int, int]:
    """Count what is missing and what is spent.

    Returns
    -------
    (int, int)
        Microlitres that the stock lacks; packs opened and purges in millionths of a pack.
    """
    shelves: dict[str, _Shelf] = {}
    for film in sorted(films, key=lambda f: (f.start, f.end, f.key)):
        shelf = shelves.get(film.product)
        if shelf is None:
            shelf = shelves[film.product] = _Shelf(film.product, sheets[film.product], lots, begun)
        shelf.serve(film)
    return sum(s.missing_ul for s in shelves.values()), sum(s.spent_ppm() for s in shelves.values())


class _Shelf:
    """Packs of one product; a standing pack is a list of what is left, from and until when it may be used, and free when."""

    def __init__(self, product: str, sheet: PackSheet, lots: Sequence[Lot], begun: Sequence[Begun]) -> None:
        self.sheet, self.keep = sheet, Habit().keep
        self.lots = [[lot.packs, lot.first, lot.last] for lot in lots if lot.product == product]
        self.lost_ul = sheet.heel_ul + sheet.recap_ul
        self.standing: list[_Standing] = [[b.left_ul, b.first, b.last, 0] for b in begun if b.product == product]
        self.empty_ul = sheet.heel_ul + (0 if sheet.goes_on else sheet.recap_ul)
        self.opened = self.resumed = self.missing_ul = 0

    def spent_ppm(self) -> int:
        """Packs opened and purges in millionths of a pack."""
        sheet = self.sheet
        start_ppm, recap_ppm = (-(-PPM * ul // sheet.full_ul) for ul in (sheet.start_ul, sheet.recap_ul))
        return self.opened * (PPM + start_ppm) + self.resumed * recap_ppm

    def serve(self, film: Film) -> None:
        """Draw a film's volume."""
        left_ul = self._from_standing(film) if self.standing else film.volume_ul
        if left_ul > 0:
            self.missing_ul += self._from_lots(film, left_ul)
        if self.standing:
            self.standing = [p for p in self.standing if p[_LEFT] > self.empty_ul and p[_LAST] > film.start]

    def _from_standing(self, film: Film) -> int:
        usable_ul, start, end, left_ul = self.sheet.usable_ul, film.start, film.end, film.volume_ul
        odd_ul, many = left_ul - (-(-left_ul // usable_ul) - 1) * usable_ul, len(self.standing) >= self.keep
        for pack in self._ready(start, end, odd_ul):
            if left_ul <= 0:
                break
            gives_ul = pack[_LEFT] - self.lost_ul
            after = -(-max(0, left_ul - gives_ul) // usable_ul)
            saves = after < -(-left_ul // usable_ul)
            if not (saves or many):
                continue
            sprayed_ul = min(left_ul, gives_ul)
            pack[_LEFT] -= self.sheet.recap_ul + sprayed_ul
            pack[_FREE] = self.sheet.back[end]
            left_ul, self.resumed = left_ul - sprayed_ul, self.resumed + 1
        return left_ul

    def _ready(self, start: int, end: int, odd_ul: int) -> list[_Standing]:
        ready = [
            p for p in self.standing if p[_FREE] <= start and p[_FIRST] <= start and end <= p[_LAST] and p[_LEFT] > self.lost_ul
        ]
        if len(ready) > 1:
            enough_ul = odd_ul + self.lost_ul
            ready.sort(key=lambda p: (p[_LEFT] < enough_ul, p[_LAST]))
        return ready

    def _from_lots(self, film: Film, left_ul: int) -> int:
        usable_ul, there = self.sheet.usable_ul, film.start if film.loaded is None else film.loaded
        for lot in self.lots:
            packs, first, last = lot
            if packs <= 0 or first > there or film.end > last:
                continue
            taken = min(packs, -(-left_ul // usable_ul))
            self.opened, lot[0] = self.opened + taken, packs - taken
            left_ul -= taken * usable_ul
            if left_ul <= 0:
                until = min(last, self.sheet.lapses[film.start])
                content_ul = self.sheet.heel_ul - left_ul
                self.standing.append([content_ul, film.start, until, self.sheet.back[film.end]])
                return 0
        return left_ul
