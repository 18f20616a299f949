"""What the other core does while the search goes on: bound or proof first, then a second search with another seed."""

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.background import BoundProcess
from scheduler.search.climb_process import ClimbProcess
from scheduler.search.clock import Clock
from scheduler.search.second import Errand, SecondSearch
from scheduler.search.settings import Settings
from scheduler.search.window_process import WindowProcess

SEARCHED, PROVED, WINDOW = "improvement", "cp-sat", "window"
"""How a solution was found."""
BOUND_UNTIL = 0.3
"""Share of a run after which the bound makes room, done or not: it hardly rises any more, and the last cooling begins."""
WORTH_S = 2.0
"""Seconds that have to be left for a second search; it takes half a second to begin."""
OTHER_SEED = 1_000_003
"""Between the seeds of the two searches."""


class OtherCore:
    """Keeps the other core at work.

    Parameters
    ----------
    net : Network
    settings : Settings
    clock : Clock
    material_from : float
        Share of the time from which the goals after lateness have their turn.

    Attributes
    ----------
    bound : int
        Weighted days late that no schedule is below.
    found_by : str
        How the last solution that was handed out was found.
    """

    def __init__(self, net: Network, settings: Settings, clock: Clock, material_from: float) -> None:
        self.net, self.settings, self.clock, self.material_from = net, settings, clock, material_from
        self.two_searches = settings.cores > 1
        self.bound, self.found_by = 0, SEARCHED
        self._bounding: BoundProcess | None = None
        self._climbing: ClimbProcess | None = None
        self._second: SecondSearch | None = None
        self._windows: WindowProcess | None = None

    def climb(self, best: Placed) -> None:
        """Begin with the proof; ``best`` is what the search has reached."""
        self._climbing = ClimbProcess(self.net, best, self.settings.seed)

    def raise_bound(self, best: Placed) -> None:
        """Begin with the bound; ``best`` is a schedule to learn from."""
        self._bounding = BoundProcess(self.net, best)

    def open_windows(self, best: Placed) -> None:
        """Begin to look at a few units at a time, if that has not begun; the cores share it with what they do besides."""
        if self._windows is None and self.two_searches:
            self._windows = WindowProcess(self.net, best, self.settings.seed)

    @property
    def is_busy(self) -> bool:
        """Whether there is more at work than there are cores."""
        return self._windows is not None and self._windows.working() and self._climbing is not None

    def tend(self, best: Placed, late_enough: int | None) -> Placed | None:
        """Look after what runs there; the solution that has been found there since, if any."""
        found = self._tend_windows(late_enough)
        if found is not None:
            self.found_by = WINDOW
            return found
        return self._tend_proof(best, late_enough)

    def _tend_windows(self, late_enough: int | None) -> Placed | None:
        """What windows have found since; with the least lateness proven there is nothing left for them."""
        if self._windows is None:
            return None
        if late_enough is not None and late_enough <= self.bound:
            self._windows.end()
            self._windows = None
            return None
        return self._windows.news()

    def _tend_proof(self, best: Placed, late_enough: int | None) -> Placed | None:
        if self._climbing is not None:
            self.bound = self._climbing.bound
            settled = late_enough is not None and late_enough <= self.bound
            self.found_by = PROVED
            return self._end_climb() if settled or not self._climbing.working() else self._climbing.news()
        if self._bounding is not None:
            self.bound = self._bounding.bound
            if self._bounding.working() and not (self.two_searches and self.clock.over() >= BOUND_UNTIL):
                return None
            self._end_bound()
        if self._second is None and self.two_searches and self.clock.left_s() > WORTH_S:
            self._second = SecondSearch(self._errand(best, late_enough))
        self.found_by = SEARCHED
        return self._second.news() if self._second is not None else None

    def _errand(self, best: Placed, late_enough: int | None) -> Errand:
        clock, settings = self.clock, self.settings
        times = (clock.passed_s(), clock.limit_s, self.material_from)
        return Errand(self.net, settings.seed + OTHER_SEED, settings.order, best, late_enough, *times)

    def _end_bound(self) -> None:
        if self._bounding is not None:
            self._bounding.end()
            self.bound, self._bounding = self._bounding.bound, None

    def _end_climb(self) -> Placed | None:
        climbing, self._climbing = self._climbing, None
        if climbing is None:
            return None
        climbing.end()
        self.bound, self.found_by = climbing.bound, PROVED
        return climbing.news()

    def end(self) -> Placed | None:
        """Stop what runs there; the last solution found there that was not asked for yet."""
        if self._windows is not None:
            self._windows.end()
        if self._climbing is not None:
            return self._end_climb()
        self._end_bound()
        if self._second is None:
            return None
        self._second.end()
        self.found_by = SEARCHED
        return self._second.news()
