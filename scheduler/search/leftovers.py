"""A later start for a coat, at which what another coat leaves in its cartridge is warm again."""

from random import Random

from scheduler.activities.network import Network, Path
from scheduler.search.state import UNPLACED, State

LONGEST_WAIT_D = 1.0
"""Days by which a coat is put off at the most."""


class Leftovers:
    """Films by product, for moves that bring a coat and a leftover together.

    Parameters
    ----------
    net : Network
    state : State
    random : Random
    """

    def __init__(self, net: Network, state: State, random: Random) -> None:
        self.net, self.state, self.random = net, state, random
        self.films: dict[str, list[int]] = {}
        for i, activity in enumerate(net.activities):
            if activity.product and activity.load is not None:
                self.films.setdefault(activity.product, []).append(i)
        days = net.day[-1] + 1 if net.day else 1
        self.longest = max(1, round(LONGEST_WAIT_D * net.slots / days))

    def later_start(self, path: Path) -> tuple[int, int] | None:
        """Offset of one of a unit's coats that is in, and a slot soon after its start at which a leftover is warm.

        Returns
        -------
        (int, int) or None
            None where there is no such coat or no such slot.
        """
        mine = [i for i in range(path.first, path.last + 1) if self._is_film(i)]
        if not mine:
            return None
        i = self.random.choice(mine)
        product, start = self.net.activities[i].product or "", self.state.start[i]
        back, activities, starts = self.net.sheets[product].back, self.net.activities, self.state.start
        warm = {back[starts[j] + activities[j].slots] for j in self.films[product] if j != i and starts[j] != UNPLACED}
        slots = sorted(slot for slot in warm if start < slot <= start + self.longest)
        return (i - path.first, self.random.choice(slots)) if slots else None

    def _is_film(self, i: int) -> bool:
        activity = self.net.activities[i]
        return bool(activity.product) and activity.load is not None and self.state.start[i] != UNPLACED
