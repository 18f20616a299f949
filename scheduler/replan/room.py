"""What a filled shop leaves: everybody else's work as fixed uses of the resources, so that its size does not matter any more."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import gcd

from scheduler.activities.masks import Masks, below, within
from scheduler.activities.network import Lag, Network, Path
from scheduler.replan.extend import UnitPart, with_parts
from scheduler.replan.used import NONE_USED, Used
from scheduler.search.insertion import Inserter
from scheduler.search.planes import Planes
from scheduler.search.routes import Routes
from scheduler.search.state import State
from scheduler.search.steps import Route


class KnownRoutes(Routes):
    """Routes that are worked out once for several searches with the same units, people and waits."""

    def __init__(self, net: Network) -> None:
        super().__init__(net)
        self._found = super().all()

    def all(self) -> tuple[Route, ...]:
        """One route a path."""
        return self._found


class RoomRoutes(Routes):
    """Routes of a few units in a room: their waits are not looked at ahead but where the units come so."""

    def __init__(self, net: Network, room: "Room") -> None:
        super().__init__(net)
        self.unit_of = tuple(gcd(unit, room.pools.get(n, NONE_USED).unit) for n, unit in enumerate(self.unit_of))
        self._found: tuple[Route, ...] | None = None

    def all(self) -> tuple[Route, ...]:
        """One route a path, worked out once."""
        if self._found is None:
            self._found = super().all()
        return self._found

    def starts(self, path: Path, lags: Sequence[Lag]) -> list[Masks]:
        """Starts of a unit's steps from which they end on the axis."""
        del lags
        activities = [self.net.activities[i] for i in range(path.first, path.last + 1)]
        return [within(a.starts, below(self.net.slots - a.slots + 1)) for a in activities]


@dataclass(frozen=True)
class Room:
    """A network without units, and what is in use of it.

    Attributes
    ----------
    net : Network
        Workers are free when they are, sources give what is left; uses are not in its pools and classes.
    shifts : tuple of int
        Slots in which each worker is there, busy or not.
    pools, bays : Mapping of int to Used
        What is in use of pools and of the places of classes of bays, by number; nothing of those that are not there.
    dust, vapour : Mapping of str to Used
        By air space, how many fill it with dust, and with vapour.
    """

    net: Network
    shifts: tuple[int, ...] = ()
    pools: Mapping[int, Used] = field(default_factory=dict)
    bays: Mapping[int, Used] = field(default_factory=dict)
    dust: Mapping[str, Used] = field(default_factory=dict)
    vapour: Mapping[str, Used] = field(default_factory=dict)

    def routes(self, parts: Iterable[UnitPart]) -> RoomRoutes:
        """Work out the routes of units in the room; they hold wherever only capacities differ."""
        return RoomRoutes(with_parts(self.net, parts), self)

    def inserter(self, parts: Iterable[UnitPart], known: RoomRoutes | None = None) -> Inserter:
        """Return an inserter for units of which none is in yet; ``known`` are their routes, where they are worked out already."""
        net = with_parts(self.net, parts)
        routes = known or RoomRoutes(net, self)
        state = State(net, routes)
        for n, unit in enumerate(state.unit_of):
            used = self.pools.get(n, NONE_USED).finer(unit)
            state.pools[n] = Planes(state.pools[n].capacity, state.wide, used.planes)
        for c, used in self.bays.items():
            state.bays[c] = Planes(state.bays[c].capacity, state.wide, used.planes)
        for n, space in enumerate(state.spaces):
            state.dust[n] = Planes(state.dust[n].capacity, state.wide, self.dust.get(space, NONE_USED).planes)
            state.vapour[n] = Planes(state.vapour[n].capacity, state.wide, self.vapour.get(space, NONE_USED).planes)
        return Inserter(net, state, routes=routes)
