"""The bound of a network from one moment to the next: capacities first, then whole days late."""

from collections.abc import Iterator

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.branch import Brancher
from scheduler.bound.tighten import Tightener, whole_days


def bounds(net: Network, placed: Placed | None) -> Iterator[int]:
    """Yield weighted days late that no schedule is below, after each round of work; ends when nothing is left to try.

    Parameters
    ----------
    net : Network
    placed : Placed or None
        A schedule to learn from.
    """
    tightener = Tightener(net)
    if placed is not None:
        tightener.learn([placed])
    yield tightener.bound
    while not tightener.done:
        tightener.step()
        yield tightener.bound
    brancher, least = Brancher(tightener), tightener.bound
    while tightener.fits and not brancher.done:
        brancher.step()
        least = max(least, whole_days(net, brancher.value))
        yield least


def tightened(net: Network, placed: Placed | None, rounds: int) -> int:
    """Weighted days late that no schedule is below, after a counted number of rounds."""
    least = 0
    for number, bound in enumerate(bounds(net, placed)):
        least = max(least, bound)
        if number >= rounds:
            break
    return least
