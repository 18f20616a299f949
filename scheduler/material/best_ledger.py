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
    kept = [_of_product(product, group, sheets, lots, begun, room) for product, group in sorted(by_product.items())]
    return Ledger(
        tuple(entry for ledger in kept for entry in ledger.entries), tuple(short for ledger in kept for short in ledger.shorts)
    )


def _of_product(
    product: str,
    films: Sequence[Film],
    sheets: Mapping[str, PackSheet],
    lots: Sequence[Lot],
    begun: Sequence[Begun],
    room: WarmerRoom | None,
) -> Ledger:
    """Try every habit, with warmer slots for leftovers and without, and what looking ahead has found; keep the cheapest."""
    ways: list[tuple[Habit, Choices | None, bool]] = [(habit, None, True) for habit in HABITS]
    if room is not None:
        ways.append((Habit(), None, False))
    ways.append((Habit(), _choices(product, films, sheets, lots, begun, room), True))
    trials = []
    for number, (habit, chosen, leftovers) in enumerate(ways):
        trial = room.copy() if room is not None and leftovers else None
        ledger = keep_ledger(films, sheets, lots, begun, {product: habit}, trial, chosen=chosen, explain=False)
        trials.append((ledger.missing_ul(), ledger.spent_ppm(sheets), number))
    habit, chosen, leftovers = ways[min(trials)[2]]
    # reasons cost more than the ledger itself, so that only the one that is kept has them
    return keep_ledger(films, sheets, lots, begun, {product: habit}, room if leftovers else None, chosen=chosen)


def _choices(
    product: str,
    films: Sequence[Film],
    sheets: Mapping[str, PackSheet],
    lots: Sequence[Lot],
    begun: Sequence[Begun],
    room: WarmerRoom | None,
) -> Choices:
    mine, stood = [lot for lot in lots if lot.product == product], [b for b in begun if b.product == product]
    width = max(NARROWEST, min(WIDEST, WAYS // len(films)))
    return look_ahead(films, sheets[product], mine, stood, room.spare if room is not None else lambda _film: 0, width)
