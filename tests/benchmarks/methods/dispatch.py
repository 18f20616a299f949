"""What a planner would do by hand: orders by due date, each unit as early as it goes, packs first in first out.

The insertion is the one of our search, so that an opponent keeps every rule; only the order in which units go in is its own.
"""

from collections.abc import Callable
from random import Random

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.search.insertion import Inserter
from scheduler.search.state import State
from scheduler.search.value import lateness
from tests.benchmarks.methods.result import Found

PASSES = 1000
SHIFTS_D = (0.5, 1.5, 4.0)
"""Standard deviations of the days by which a randomised pass moves a unit in the order."""


class Dispatch:
    """Passes over one shop; each empties it and puts all units in again."""

    def __init__(self, net: Network, random: Random | None) -> None:
        self.net, self.state = net, State(net)
        self.inserter = Inserter(net, self.state, random)
        self.due_slot = {due.order: next((e for e, days in enumerate(due.late) if days > 0), net.slots) for due in net.dues}
        self.weight = {due.order: due.weight for due in net.dues}

    def by_due(self, path: Path) -> tuple[float, ...]:
        """Due date, then weight, then the order of the table; units that are in the shop come first."""
        return (not path.since_start, self.due_slot[path.order], -self.weight[path.order], path.first)

    def run(self, key: Callable[[Path], tuple[float, ...]]) -> tuple[Placed, int] | None:
        """One pass; None if a unit does not fit."""
        for path in self.net.paths:
            if path.unit in self.state.present:
                self.inserter.remove(path)
        if not all(self.inserter.insert(path) for path in sorted(self.net.paths, key=key)):
            return None
        return self.state.placed(), lateness(self.net, self.state.start)


def by_due_date(net: Network, _limit_s: float, _seed: int) -> Found:
    """One pass by due date."""
    found = Found()
    dispatch = Dispatch(net, None)
    _take(found, dispatch.run(dispatch.by_due))
    return found


def best_of_passes(net: Network, limit_s: float, seed: int) -> Found:
    """Best of 1,000 passes in which due dates are shifted at random, or of as many as the time allows."""
    found, random = Found(), Random(seed)
    plain = Dispatch(net, None)
    _take(found, plain.run(plain.by_due))
    dispatch, passes = Dispatch(net, random), 1
    slots_a_day = net.slots / (net.day[-1] + 1)
    while passes < PASSES and found.passed_s() < limit_s:
        width = random.choice(SHIFTS_D) * slots_a_day
        moved = {path.unit: random.gauss(0, width) for path in net.paths}

        def key(path: Path, moved: dict[str, float] = moved) -> tuple[float, ...]:
            return (not path.since_start, dispatch.due_slot[path.order] + moved[path.unit], path.first)

        _take(found, dispatch.run(key))
        passes += 1
    found.note = f"{passes} passes"
    return found


def _take(found: Found, made: tuple[Placed, int] | None) -> None:
    if made is not None:
        found.better(*made)
