"""The bound of a network from one moment to the next: capacities first, then whole days late."""

from collections.abc import Iterator

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.branch import Brancher
from scheduler.bound.capacity import Capacities
from scheduler.bound.nodes import ChainBuilder
from scheduler.bound.tighten import Tightener, whole_days

MOST_BYTES = 1 << 30
BYTES_A_SLOT = 600
"""What a chain of a dozen keys takes for each slot of the axis: 530 on 352 chains of 2,280 slots."""


def memory_of(net: Network) -> int:
    """Bytes that the chains of a network take, roughly; a bound that does not fit beside the search is left out."""
    builder = ChainBuilder(net, Capacities(net))
    return len({builder.alike(p) for p in range(len(net.paths))}) * net.slots * BYTES_A_SLOT


def bounds(net: Network, placed: Placed | None) -> Iterator[int]:
    """Yield weighted days late that no schedule is below, after each round of work; ends when nothing is left to try.

    Parameters
    ----------
    net : Network
    placed : Placed or None
        A schedule to learn from.
    """
    if memory_of(net) > MOST_BYTES:
        return
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
