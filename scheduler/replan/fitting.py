"""Whether everything finds a place: units are put in by due date, and those that do not fit go first the next time."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from random import Random
from typing import Final

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.room import KnownRoutes
from scheduler.search.first import orders
from scheduler.search.insertion import Inserter
from scheduler.search.state import State

ROUNDS: Final = 5
"""How often units that did not fit are moved to the front. Insertion that finds no way proves nothing, but is a sign."""


@dataclass(frozen=True)
class Filled:
    """Units that are in, and those that found no place."""

    inserter: Inserter
    left: tuple[Path, ...]


class Fitting:
    """Puts the units of a network in, all of them or all but some orders.

    Parameters
    ----------
    net : Network
    """

    def __init__(self, net: Network) -> None:
        self.net, self.routes = net, KnownRoutes(net)
        self.order = next(orders(net, Random(1)))

    def fits(self, without: Collection[str] = ()) -> bool:
        """Whether all units find a place, but for those of some orders."""
        return not self._rounds(without, whole=False).left

    def fill(self, without: Collection[str] = ()) -> Filled:
        """Put in what fits, as many units as any round had."""
        return self._rounds(without, whole=True)

    def in_order(self, units: Sequence[str]) -> Placed | None:
        """Put all units in, in an order; None where one of them does not fit."""
        place = {unit: n for n, unit in enumerate(units)}
        paths = sorted(self.net.paths, key=lambda path: (not path.since_start, place.get(path.unit, len(place))))
        filled = self._round(paths, whole=False)
        return None if filled.left else filled.inserter.state.placed()

    def _rounds(self, without: Collection[str], *, whole: bool) -> Filled:
        """Try again with what did not fit in front; a round that need not be whole ends with the first unit that does not fit."""
        paths = [path for path in self.order if path.order not in without]
        best = last = self._round(paths, whole=whole)
        for _ in range(ROUNDS - 1):
            if not best.left:
                break
            first = set(last.left)
            paths.sort(key=lambda path: (not path.since_start, path not in first))
            last = self._round(paths, whole=whole)
            best = min(best, last, key=lambda filled: len(filled.left))
        return best

    def _round(self, paths: Sequence[Path], *, whole: bool) -> Filled:
        inserter = Inserter(self.net, State(self.net, self.routes), routes=self.routes)
        left: list[Path] = []
        for path in paths:
            if not inserter.insert(path):
                left.append(path)
                if not whole:
                    break
        return Filled(inserter, tuple(left))

    def stranded(self) -> tuple[str, ...]:
        """Orders with a unit that would find no place if it had the shop to itself."""
        inserter = Inserter(self.net, State(self.net, self.routes), routes=self.routes)
        found: list[str] = []
        for path in self.net.paths:
            mark = inserter.state.save()
            if not inserter.insert(path):
                found.append(path.order)
            inserter.state.restore(mark)
        return tuple(dict.fromkeys(found))
