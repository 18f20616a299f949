"""Which units a move takes out: one that matters, and mates that may make room for it."""

from bisect import bisect_left
from random import Random

from scheduler.activities.network import Network, Path
from scheduler.search.energy import Energy
from scheduler.search.state import State

LATE_UNIT, LATEST_OF_ORDER, SAME_DAYS, SHUFFLED = 0.7, 0.7, 0.6, 0.3
"""Shares of moves: begun with a late unit, with the last one of its order, with mates of the same days, put back in any order."""
MATES = (1, 1, 1, 2)
"""Units taken out with the first: what one of many finds no place for is lost for all, so small moves pay."""
TOURNAMENT, NEAR, REFRESH = 6, 8, 50


class Moves:
    """Chooses units.

    Parameters
    ----------
    net : Network
    state : State
    energy : Energy
    random : Random
    """

    def __init__(self, net: Network, state: State, energy: Energy, random: Random) -> None:
        self.net, self.state, self.energy, self.random = net, state, energy, random
        self.last = {path.last: path for path in net.paths}
        self.slots_a_day = energy.slots_a_day
        self._in_time: list[tuple[float, int]] = []
        self._age = REFRESH

    def choose(self) -> list[Path]:
        """Units to take out, in the order in which they are to be put back."""
        lead = self._late_unit() if self.random.random() < LATE_UNIT else None
        if lead is None:
            lead = self.random.choice(self.net.paths)
        count = self.random.choice(MATES)
        pool = self._near(lead) if self.random.random() < SAME_DAYS else self._give_way(lead, count)
        chosen = [lead, *self.random.sample(pool, min(count, len(pool)))]
        if self.random.random() < SHUFFLED:
            self.random.shuffle(chosen)
        return chosen

    def _late_unit(self) -> Path | None:
        dues = self.net.dues
        late = [d for d, days in self.energy.now.late.items() if days > 0 and dues[d].members]
        if not late:
            return None
        due = dues[self.random.choice(late)]
        ends = [(self.state.start[i], i) for i in due.members]
        if self.random.random() < LATEST_OF_ORDER:
            return self.last[max(ends)[1]]
        return self.last[self.random.choice(ends)[1]]

    def _middle(self, path: Path) -> float:
        return (self.state.start[path.first] + self.state.start[path.last]) / 2

    def _near(self, lead: Path) -> list[Path]:
        """Units that are there at about the same time, or some days before."""
        if self._age >= REFRESH:
            self._in_time, self._age = sorted((self._middle(p), n) for n, p in enumerate(self.net.paths)), 0
        self._age += 1
        middle = self._middle(lead) - self.random.random() * 3 * self.slots_a_day
        at = bisect_left(self._in_time, (middle, 0))
        first = max(0, min(at - NEAR // 2, len(self._in_time) - NEAR))
        near = [self.net.paths[n] for _, n in self._in_time[first : first + NEAR]]
        return [path for path in near if path is not lead]

    def _give_way(self, lead: Path, count: int) -> list[Path]:
        """Units that would lose least by changing places with the lead, each the best of some that are drawn."""
        end, found = self.state.start[lead.last], list[Path]()
        for _ in range(count):
            drawn = [self.random.choice(self.net.paths) for _ in range(TOURNAMENT)]
            best = min(drawn, key=lambda path: (self._loss(path, end), self.state.start[path.last] > end))
            if best is not lead and best not in found:
                found.append(best)
        return found

    def _loss(self, path: Path, end: int) -> int:
        """Weighted days that a unit would be later if it ended where another does."""
        d = self.energy.due_of[self.energy.number[path.unit]]
        if d < 0:
            return 0
        due, now = self.net.dues[d], self.state.start[path.last]
        return due.weight * (due.late[end] - due.late[now])
