"""When could a customer have units back in what is free, with nothing moved."""

from collections.abc import Sequence
from random import Random
from typing import Final

from scheduler.activities.network import Path
from scheduler.replan.extend import UnitPart
from scheduler.replan.quote import Answer, answer_of
from scheduler.replan.room import Room

PUT_IN: Final = 90_000
"""Units that are put into what is free, later tries included, times slots of the axis: longer plans take longer for each."""
LEAST_PUT_IN: Final = 40
MOST_PUT_IN: Final = 300
MAY_WAIT: Final = 0.6
ANY_BAY: Final = 0.2
"""Shares of the units that wait, and of the tries in which bays are drawn."""


def into_free(room: Room, parts: Sequence[UnitPart], seed: int = 1, effort: int = 1) -> Answer | None:
    """Earliest last hand-over that is found with nothing moved; None where the units do not fit.

    Units of different kinds go in in different orders first, each as early as it goes. Then some of them wait a little at one of
    their steps, because who takes the first hour that is free may stand in the way of the next unit for days.

    Parameters
    ----------
    room : Room
    parts : sequence of UnitPart
    seed : int
    effort : int
        How many times the usual number of units are put in.
    """
    if len(parts) == 1:
        return _Fitter(room, parts, seed).run(1)
    most = min(max(PUT_IN // room.net.slots, LEAST_PUT_IN), MOST_PUT_IN)
    return _Fitter(room, parts, seed).run(most * effort)


class _Fitter:
    def __init__(self, room: Room, parts: Sequence[UnitPart], seed: int) -> None:
        self.random, self.inserter = Random(seed), room.inserter(parts)
        self.paths = list(self.inserter.net.paths)
        self.orders = len({tuple((a.name, a.slots) for a in part.activities) for part in parts})
        self.put_in = 0

    def run(self, most: int) -> Answer | None:
        """Put all units in again and again, until so many were put in."""
        state, best, tries = self.inserter.state, None, 0
        while tries < self.orders or self.put_in < most:
            mark, tries = state.save(), tries + 1
            if self._fit(best, waits=tries > self.orders):
                found = answer_of(self.inserter, self.inserter.net.paths, tries)
                if best is None or (found.last, sum(found.ends)) < (best.last, sum(best.ends)):
                    best = found
            state.restore(mark)
            self.random.shuffle(self.paths)
        return best

    def _fit(self, best: Answer | None, *, waits: bool) -> bool:
        """Put all units in, to end no later than in the best answer; sooner, where some of them wait."""
        by = None if best is None else best.last - waits
        self.inserter.random = self.random if waits and self.random.random() < ANY_BAY else None
        for path in self.paths:
            self.put_in += 1
            if not self.inserter.insert(path, by):
                return False
            if waits and path is not self.paths[-1] and self.random.random() < MAY_WAIT:
                self._let_wait(path, by)
        return True

    def _let_wait(self, path: Path, by: int | None) -> None:
        """Put a unit in again that waits at one of its steps, mostly a little, up to a day; it stays if it cannot."""
        net, state = self.inserter.net, self.inserter.state
        step = self.random.randrange(path.late_pickup, path.last - path.first + 1)
        slot = state.start[path.first + step] + 1 + int(self.random.random() ** 3 * net.slots / (net.day[-1] + 1))
        mark = state.save()
        self.inserter.remove(path)
        self.put_in += 1
        if not self.inserter.insert(path, by, not_before=(step, slot)):
            state.restore(mark)
