"""Repair: keep all that still works and put in again only what is broken or new."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.activities.reread import whole
from scheduler.replan.obstacles import Obstacle
from scheduler.replan.room import KnownRoutes
from scheduler.replan.stand import Stander, stand_all
from scheduler.search.improve import Improver
from scheduler.search.insertion import Inserter
from scheduler.search.routes import Routes
from scheduler.search.state import State

NEAREST, ROUNDS, AFRESH = 12, 6, 12
"""Mates that are tried, alone and in pairs, before a unit that does not fit goes first in another round; rounds in all,
and orders of insertion that are tried afresh after them."""


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
    stander = Stander(Inserter(net, State(net, routes), routes=routes), told)
    fallen, first = dict[str, Obstacle](), list[Path]()
    for _ in range(ROUNDS):
        attempt = _Attempt(stander, first)
        late = attempt.run()
        fallen = fallen or {unit: o for unit, o in attempt.fallen.items() if not first}
        if late is None:
            others = (unit for unit in attempt.fallen if unit not in fallen)
            return Repaired(attempt.inserter.state.placed(), fallen, (*attempt.bumped, *others))
        if first and late is first[0]:
            return NoRoom((late.unit,))  # it does not even fit into the empty shop
        if late in first:
            break
        first.insert(0, late)
    return _afresh(net, fallen, seed) or NoRoom(tuple(path.unit for path in first))


class _Attempt:
    """One round from the empty shop: some units first, then all that can stand, then what is missing."""

    def __init__(self, stander: Stander, first: list[Path]) -> None:
        self.stander, self.first, self.inserter = stander, first, stander.inserter
        self.net, self.told = stander.net, stander.told
        self.inserter.state.restore(0)
        self.fallen: dict[str, Obstacle] = {}
        self.bumped: list[str] = []

    def run(self) -> Path | None:
        """Put everything in; the first unit for which there is no room, None if there is for all."""
        for path in self.first:
            if not self.inserter.insert(path):
                return path
        ahead = {path.unit for path in self.first}
        standing = [p for p in self.net.paths if p.unit not in ahead and whole(p, self.told)]
        self.fallen = stand_all(self.stander, standing)
        kept = {p.unit for p in standing} - set(self.fallen)
        missing = [p for p in self.net.paths if p.unit not in kept | ahead]
        for path in sorted(missing, key=_urgency(self.net)):
            if not self.inserter.insert(path) and not _make_room(self.inserter, path, self.told, self.bumped):
                return path
        return None


def _urgency(net: Network) -> Callable[[Path], tuple[float, ...]]:
    """What is on the site first, then by due date, the weightier first."""
    due_of = {due.order: due for due in net.dues}

    def key(path: Path) -> tuple[float, ...]:
        due = due_of.get(path.order)
        late_from = next((e for e, days in enumerate(due.late) if days > 0), net.slots) if due else net.slots
        return (not path.since_start, late_from, -(due.weight if due else 0), path.first)

    return key


def _make_room(inserter: Inserter, path: Path, told: Placed, bumped: list[str]) -> bool:
    """Take out one or two units that are in at about the same time, put ``path`` in, then them again."""
    for mates in _mates(inserter, path, told):
        saved = inserter.state.save()
        for mate in mates:
            inserter.remove(mate)
        if inserter.insert(path) and all(inserter.insert(mate) for mate in mates):
            bumped += [mate.unit for mate in mates]
            return True
        inserter.state.restore(saved)
    return False


def _mates(inserter: Inserter, path: Path, told: Placed) -> Iterator[tuple[Path, ...]]:
    present = inserter.state.present
    there = [p for p in inserter.net.paths if p.unit in present and p.unit != path.unit]
    wanted = max(told.start[path.first], 0)
    there.sort(key=lambda p: (p.since_start, abs(inserter.state.start[p.first] - wanted)))
    for count in (1, 2):
        yield from combinations(there[:NEAREST], count)


def _afresh(net: Network, fallen: dict[str, Obstacle], seed: int) -> Repaired | None:
    first = Improver(net, seed).first(tries=AFRESH)
    return None if first is None else Repaired(first.placed, fallen, afresh=True)


def moved(net: Network, told: Placed, placed: Placed, paths: Iterable[Path]) -> list[Path]:
    """Units with a step at another time or a stay in another kind of bay than people were told; new units have not moved."""
    return [p for p in paths if any(told.start[i] >= 0 for i in range(p.first, p.last + 1)) and _differs(net, told, placed, p)]


def _differs(_net: Network, told: Placed, placed: Placed, path: Path) -> bool:
    steps = any(told.start[i] != placed.start[i] for i in range(path.first, path.last + 1))
    return steps or any(told.bay_class[k] != placed.bay_class[k] for k in path.stays)
