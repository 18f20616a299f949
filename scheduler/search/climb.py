"""Proof from below: the least lateness is looked for level by level, with only the starts that a level leaves.

A model of all starts is slow at 12 units already. What lateness of at most so much leaves of them, by the prices of the bound,
is a small part; where CP-SAT finds nothing in it, there is nothing, and the bound goes up to the next level. The first schedule
that it finds is the best one.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.branch import Brancher
from scheduler.bound.leeway import Leeway
from scheduler.bound.tighten import Tightener, whole_days
from scheduler.search.descent import descend
from scheduler.search.level import Answer, Level, look
from scheduler.search.narrow import narrow

ROUNDS = 60
"""Rounds of the bound before the first level: later ones move the prices of a small shop little."""
MANY = 40
"""Levels from which on climbing takes too long: CP-SAT then works down from the schedule that is known."""
FEW_ROUNDS = 8
"""Rounds after which a bound that is still that far below is left as it is."""
CASES = 6
"""Cases that the relaxation is cut into before the first level."""
LEVELS = 3
"""Levels that are looked at together: fewer prove the same again and again, more leave too many starts."""


def climb(
    net: Network,
    below: int,
    seed: int,
    rounds: int = ROUNDS,
    deterministic: float | None = None,
    known: Placed | None = None,
) -> Iterator[Level]:
    """Yield what is known of the least lateness, better each time, until a schedule is found or ``below`` is reached.

    Parameters
    ----------
    net : Network
    below : int
        Weighted days late of a schedule that is known: only better ones are looked for.
    seed : int
    rounds : int
        Rounds of the relaxation before the first level.
    deterministic : float, optional
        Deterministic time of CP-SAT for all levels together; without it there is no limit.
    known : Placed, optional
        That schedule; where there are very many levels it is made better step by step.
    """
    tightener, bound, step = Tightener(net), 0, _step(net)
    for bound in _begun(tightener, below, rounds, MANY * step):
        yield Level(bound)
    if bound >= below or not tightener.fits:
        return
    hunt = _Hunt(net, Leeway(tightener), step, seed, deterministic)
    if below - bound > MANY * step:
        yield from hunt.down(bound, below, known)
    else:
        yield from hunt.up(bound, below)


@dataclass
class _Hunt:
    """Looks for schedules with the starts that some lateness leaves, ``step`` from level to level."""

    net: Network
    leeway: Leeway
    step: int
    seed: int
    left: float | None

    def down(self, bound: int, below: int, known: Placed | None) -> Iterator[Level]:
        """Work down from a schedule that is known."""
        starts = self.leeway.starts(below - self.step)
        if narrow(self.net, starts):
            yield from descend(self.net, starts, (bound, below - self.step), self.seed, self.left, known)
        else:
            yield Level(below)

    def up(self, bound: int, below: int) -> Iterator[Level]:
        """Look at a few levels at a time, the least first."""
        while bound < below:
            most = min(bound + (LEVELS - 1) * self.step, below - self.step)
            answer = self._look(bound, most)
            if answer is not None and (answer.placed is not None or not answer.ended):
                yield Level(answer.bound, answer.placed)
                return
            bound = most + self.step
            yield Level(bound)

    def _look(self, least: int, most: int) -> Answer | None:
        """What CP-SAT finds in what some levels leave; None where they leave nothing."""
        starts = self.leeway.starts(most)
        if not narrow(self.net, starts):
            return None
        answer = look(self.net, starts, (least, most), self.seed, self.left)
        self.left = None if self.left is None else self.left - answer.spent
        return answer


def _begun(tightener: Tightener, below: int, rounds: int, far: int) -> Iterator[int]:
    """Yield bounds of the relaxation until one reaches ``below``, or is left ``far`` under it after a few rounds."""
    for done, bound in enumerate(_relaxed(tightener, rounds)):
        yield bound
        if bound >= below or (done >= FEW_ROUNDS and below - bound > far):
            return


def _relaxed(tightener: Tightener, rounds: int) -> Iterator[int]:
    """Yield bounds of the relaxation, better each time."""
    while not tightener.done and tightener.rounds < rounds:
        tightener.step()
        yield tightener.bound
    brancher, best = Brancher(tightener), tightener.bound
    for _ in range(CASES):
        if brancher.done or not tightener.fits:
            break
        brancher.step()
        best = max(best, whole_days(tightener.net, brancher.value))
        yield best


def _step(net: Network) -> int:
    return math.gcd(*(due.weight for due in net.dues)) or 1
