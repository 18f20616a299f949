"""The best of several ledgers: habits of using opened packs and a look ahead, product by product; the cheapest is kept."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from scheduler.material.entries import Habit, Ledger
from scheduler.material.ledger import keep_ledger
from scheduler.material.look_ahead import Choices, look_ahead
from scheduler.material.pack import Begun, Film, Lot, PackSheet

WAYS, NARROWEST, WIDEST = 3000, 3, 40
"""Ways that looking ahead keeps over all films of a product, and the fewest and most after each."""
HABITS: Final = (Habit(keep=1), Habit(), Habit(keep=4, best_fit=True))
MANY: Final = 500
"""Films of a product above which habits are tried only where looking ahead lacks material: none has come within a pack of it."""
Way = tuple[Habit, Choices | None, bool]
"""A habit, what looking ahead has chosen, and whether leftovers may take warmer slots beyond those reserved."""


@dataclass
class WarmerRoom:
    """Warmer slots that are free over the work axis.

    Attributes
    ----------
    free : array of int, shape (slots,)
        Free places by slot; copied before it is changed.
    """

    free: NDArray[np.int64]

    def __call__(self, start: int, end: int, places: int) -> bool:
        """Book places from slot to slot if they are free throughout."""
        if end > start and int(self.free[start:end].min()) < places:
            return False
        self.free[start:end] -= places
        return True

    def spare(self, film: Film) -> int:
        """Places that are free from the loading of a film to its end."""
        if film.loaded is None or film.end <= film.loaded:
            return 0
        return max(0, int(self.free[film.loaded : film.end].min()))

    def copy(self) -> "WarmerRoom":
        """Return a room that can be booked without touching this one."""
        return WarmerRoom(self.free.copy())


def best_ledger(
    films: Iterable[Film],
    sheets: Mapping[str, PackSheet],
    lots: Sequence[Lot],
    begun: Sequence[Begun],
    room: WarmerRoom | None = None,
) -> Ledger:
    """Serve every film from packs, in the way that opens and wastes least for each product.

    Parameters are those of :func:`scheduler.material.ledger.keep_ledger`.
    """
    by_product: dict[str, list[Film]] = {}
    for film in films:
        by_product.setdefault(film.product, []).append(film)
    kept = [_Product(product, group, sheets, lots, begun, room).best() for product, group in sorted(by_product.items())]
    return Ledger(
        tuple(entry for ledger in kept for entry in ledger.entries), tuple(short for ledger in kept for short in ledger.shorts)
    )


@dataclass(frozen=True)
class _Product:
    """The ledger of one product: every habit, with warmer slots for leftovers and without, and what looking ahead finds."""

    product: str
    films: Sequence[Film]
    sheets: Mapping[str, PackSheet]
    lots: Sequence[Lot]
    begun: Sequence[Begun]
    room: WarmerRoom | None

    def best(self) -> Ledger:
        """Keep the cheapest; of those alike the first habit, looking ahead last."""
        ahead: Way = (Habit(), self._choices(), True)
        ways, trials = [ahead], [self._tried(ahead)]
        if len(self.films) <= MANY or trials[0][0] > 0:
            ways = [*self._plain_ways(), ahead]
            trials = [*map(self._tried, ways[:-1]), *trials]
        # reasons cost more than the ledger itself, so that only the one that is kept has them
        return self._kept(ways[trials.index(min(trials))], self.room, explain=True)

    def _plain_ways(self) -> list[Way]:
        ways: list[Way] = [(habit, None, True) for habit in HABITS]
        return ways if self.room is None else [*ways, (Habit(), None, False)]

    def _tried(self, way: Way) -> tuple[int, int]:
        """What is missing and what is spent."""
        ledger = self._kept(way, None if self.room is None else self.room.copy(), explain=False)
        return ledger.missing_ul(), ledger.spent_ppm(self.sheets)

    def _kept(self, way: Way, room: WarmerRoom | None, *, explain: bool) -> Ledger:
        habit, chosen, leftovers = way
        habits, free = {self.product: habit}, room if leftovers else None
        return keep_ledger(self.films, self.sheets, self.lots, self.begun, habits, free, chosen=chosen, explain=explain)

    def _choices(self) -> Choices:
        """What looking ahead finds."""
        lots = [lot for lot in self.lots if lot.product == self.product]
        stood = [b for b in self.begun if b.product == self.product]
        width = max(NARROWEST, min(WIDEST, WAYS // len(self.films)))
        spare = self.room.spare if self.room is not None else lambda _film: 0
        return look_ahead(self.films, self.sheets[self.product], lots, stood, spare, width)
