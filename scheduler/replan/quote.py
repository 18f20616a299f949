"""An answer to a question for a date: where units that nobody has ordered yet would stand."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from scheduler.activities.network import Network, Path, Pool
from scheduler.activities.placed import Placed
from scheduler.search.insertion import Inserter


@dataclass(frozen=True)
class Answer:
    """Where units that were asked for would stand.

    Attributes
    ----------
    net : Network
        With the new units in it.
    placed : Placed
        Of that network.
    units : tuple of str
        New units.
    ends : tuple of int
        Slot before which each of them is handed back.
    moves : int
        Moves or tries that were made.
    """

    net: Network
    placed: Placed
    units: tuple[str, ...]
    ends: tuple[int, ...]
    moves: int

    @property
    def last(self) -> int:
        """Slot before which all are handed back."""
        return max(self.ends)


def with_spare(net: Network, order: str, spare: int | None) -> tuple[Network, tuple[int, ...]]:
    """Add a pool for the units that a customer can spare; the network, and the pools in which its units count."""
    yard = next(n for n, pool in enumerate(net.pools) if pool.key == "yard")
    if spare is None:
        return net, (yard,)
    return replace(net, pools=(*net.pools, Pool(f"away {order}", "units_away", spare))), (yard, len(net.pools))


def answer_of(inserter: Inserter, paths: Sequence[Path], moves: int) -> Answer:
    """Where units stand in an inserter, as an answer."""
    state, net = inserter.state, inserter.net
    ends = tuple(state.start[path.last] + net.activities[path.last].slots for path in paths)
    return Answer(net, state.placed(), tuple(path.unit for path in paths), ends, moves)
