"""One move: a few units are taken out and put back, each as early as it goes in the order in which they come."""

from random import Random

from scheduler.activities.network import Path
from scheduler.search.energy import Energy
from scheduler.search.insertion import Inserter
from scheduler.search.leftovers import Leftovers
from scheduler.search.moves import Moves

REGULAR_TIME = {False: 0.2, True: 0.8}
"""Share of the moves that leave out slots in which everybody is on overtime, before lateness is settled and after.

Measured on the demo, 4,000 moves: cost 1853 without, 1265 with .8 of the moves, 1087 with overtime four times as dear as well.
"""
WAIT_FOR_PACK = 0.5
"""Share of moves, once lateness is settled, that put a coat off until a leftover is warm again."""


class Mover:
    """Makes moves; whether one is kept is for the caller to say, who can go back by the state's trail.

    Parameters
    ----------
    inserter : Inserter
    energy : Energy
    random : Random
    """

    def __init__(self, inserter: Inserter, energy: Energy, random: Random) -> None:
        net, state = inserter.net, inserter.state
        self.inserter, self.state, self.energy, self.random = inserter, state, energy, random
        self.choice = Moves(net, state, energy, random)
        self.leftovers = Leftovers(net, state, random)

    def move(self, energy: float, threshold: float) -> list[Path]:
        """Take units out and put them back; none if that does not go or cannot stay below the threshold."""
        removed, most = self.choice.choose(), self.energy.most_lateness(energy, threshold)
        settled = self.energy.late_enough is not None
        later = self._later(removed[0]) if settled and self.random.random() < WAIT_FOR_PACK else {}
        for path in removed:
            self.inserter.remove(path)
        regular = self.state.has_overtime and self.random.random() < REGULAR_TIME[settled]
        for path in removed:
            latest, wait = self.energy.latest_end(path, most, removed), later.get(path.unit)
            if not self.inserter.insert(path, latest, in_regular_time=regular, not_before=wait):
                return []
        return removed

    def _later(self, path: Path) -> dict[str, tuple[int, int] | None]:
        """A coat of a unit that is to wait until a leftover is warm again, and until when."""
        return {path.unit: self.leftovers.later_start(path)}
