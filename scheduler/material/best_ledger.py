"""The best of several ledgers: habits of using opened packs are tried product by product, the cheapest is kept."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from scheduler.material.entries import Habit, Ledger
from scheduler.material.ledger import keep_ledger
from scheduler.material.pack import Begun, Film, Lot, PackSheet

HABITS: Final = tuple(Habit(keep, best_fit) for keep in (1, 2, 3, 4) for best_fit in (False, True))


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
    """Serve every film from packs, with the habit that opens and wastes least for each product.

    Parameters are those of :func:`scheduler.material.ledger.keep_ledger`.
    """
    by_product: dict[str, list[Film]] = {}
    for film in films:
        by_product.setdefault(film.product, []).append(film)
    kept: list[Ledger] = []
    for product, group in sorted(by_product.items()):
        trials = []
        for habit in HABITS:
            trial = room.copy() if room is not None else None
            ledger = keep_ledger(group, sheets, lots, begun, {product: habit}, trial)
            trials.append((ledger.missing_ul(), ledger.spent_ppm(sheets), habit))
        _, _, best = min(trials, key=lambda trial: trial[:2])
        # reasons cost more than the ledger itself, so that only the one that is kept has them
        kept.append(keep_ledger(group, sheets, lots, begun, {product: best}, room, explain=True))
    return Ledger(
        tuple(entry for ledger in kept for entry in ledger.entries), tuple(short for ledger in kept for short in ledger.shorts)
    )
