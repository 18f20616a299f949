"""A second search on the other core, with another seed; what it finds is told as it goes."""

from dataclasses import dataclass

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.finder import Finder


@dataclass(frozen=True, slots=True)
class Errand:
    """What a second search is to do.

    Attributes
    ----------
    net : Network
    seed : int
    goals : tuple of str
        All goals in the order in which they count.
    placed : Placed
        Solution to go on from.
    late_enough : int or None
        Lateness that is proven to be as good as it can be.
    passed_s, limit_s : float
        How much of the time is over, and all of it.
    material_from : float
        Share of the time from which the goals after lateness have their turn.
    """

    net: Network
    seed: int
    goals: tuple[str, ...]
    placed: Placed
    late_enough: int | None
    passed_s: float
    limit_s: float
    material_from: float


class SecondSearch(Finder):
    """Improves a solution while the search goes on.

    Parameters
    ----------
    errand : Errand
    """

    def __init__(self, errand: Errand) -> None:
        super().__init__("scheduler.search.second_worker", errand, "the second search")
