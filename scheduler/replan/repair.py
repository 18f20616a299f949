"""Repair: keep all that still works and put in again only what is broken or new."""

from dataclasses import dataclass

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.obstacles import Obstacle
from scheduler.replan.room import KnownRoutes
from scheduler.replan.rounds import Rounds
from scheduler.replan.stand import Stander
from scheduler.search.improve import Improver
from scheduler.search.insertion import Inserter
from scheduler.search.routes import Routes
from scheduler.search.state import State

ROUNDS, AFRESH = 20, 12
"""Rounds in all, and orders of insertion that are tried afresh after them."""


@dataclass(frozen=True, slots=True)
class Repaired:
    """A whole solution again.

    Attributes
    ----------
    fallen : dict of str to Obstacle
        Units that could not stand where they were told, and what keeps them from it.
    bumped : tuple of str
        Units that could have stood, but for one that had nowhere else to go, and had to make room.
    afresh : bool
        Nothing could be kept: some unit fitted in no other way.
    """

    placed: Placed
    fallen: dict[str, Obstacle]
    bumped: tuple[str, ...] = ()
    afresh: bool = False


@dataclass(frozen=True, slots=True)
class NoRoom:
    """Units for which no room was found, the last first; the others stand."""

    units: tuple[str, ...]


def repair(net: Network, told: Placed, seed: int = 1, routes: Routes | None = None) -> Repaired | None:
    """Make a told solution whole, as :func:`try_repair`; None where some unit fits in no way at all."""
    found = try_repair(net, told, seed, routes)
    return found if isinstance(found, Repaired) else None


def try_repair(net: Network, told: Placed, seed: int = 1, routes: Routes | None = None) -> Repaired | NoRoom:
    """Make a told solution whole on a network as it stands now.

    A unit for which nothing makes room goes in before all others in another round, and those in its way make room.

    Parameters
    ----------
    net : Network
    told : Placed
        With ``NOWHERE`` for what has no place; such units are put in as early as they go.
    seed : int
    routes : Routes or None
        Of the network, if they are there already.
    """
    routes = routes or KnownRoutes(net)
    rounds = Rounds(Stander(Inserter(net, State(net, routes), routes=routes), told))
    fallen, first = dict[str, Obstacle](), list[Path]()
    for _ in range(ROUNDS):
        late = rounds.run(first)
        fallen = fallen or (rounds.fallen if not first else {})
        if not late:
            others = (unit for unit in rounds.fallen if unit not in fallen)
            return Repaired(rounds.state.placed(), fallen, (*rounds.bumped, *others))
        if first and late[0] is first[0]:
            return NoRoom((late[0].unit,))  # it does not even fit into the empty shop
        first = [*late, *(path for path in first if path not in late)]
    return _afresh(net, fallen, seed) or NoRoom(tuple(path.unit for path in first))


def _afresh(net: Network, fallen: dict[str, Obstacle], seed: int) -> Repaired | None:
    first = Improver(net, seed).first(tries=AFRESH)
    return None if first is None else Repaired(first.placed, fallen, afresh=True)
