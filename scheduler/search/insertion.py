"""Serial insertion: a unit's whole route goes into the free time of the shop, as early as it can."""

from collections.abc import Sequence
from random import Random

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.search.bay_choice import BayChoice
from scheduler.search.booking import Booking
from scheduler.search.chain import Chain, NoRoomError
from scheduler.search.latest import Latest
from scheduler.search.pickup import earliest_body, pick_up
from scheduler.search.routes import Routes
from scheduler.search.state import State
from scheduler.search.steps import YARD, Route
from scheduler.search.taking import take_out
from scheduler.search.tighten import tighten


class Inserter:
    """Inserts units into a state and takes them out again.

    Parameters
    ----------
    net : Network
    state : State
    random : Random or None
        With one, a stay goes into one class of bays, mostly the first that is free; without one, and where that does not
        go, every class is tried.
    """

    def __init__(self, net: Network, state: State, random: Random | None = None, routes: Routes | None = None) -> None:
        self.net, self.state, self.random = net, state, random
        self.routes = (routes or Routes(net)).all()
        self.latest = Latest(net.slots)
        self.route_of = {route.path.unit: route for route in self.routes}

    def insert(
        self,
        path: Path,
        latest_end: int | None = None,
        *,
        in_regular_time: bool = False,
        not_before: tuple[int, int] | None = None,
    ) -> bool:
        """Put a unit in as early as it goes.

        Parameters
        ----------
        path : Path
        latest_end : int, optional
            Slot by which its last step has to end.
        in_regular_time : bool
            Leave out slots in which everybody is on overtime.
        not_before : (int, int), optional
            Offset of a step, and a slot before which it must not start.

        Returns
        -------
        bool
            False, with nothing changed, where it does not fit.
        """
        route = self.route_of[path.unit]
        latest = self.latest.starts(route, self.net.slots if latest_end is None else latest_end)
        chain = self._chain(route, latest, not_before, in_regular_time=in_regular_time)
        choice = BayChoice(chain, self.random)
        if self._enter(chain, choice):
            return True
        if not choice.settled:
            return False
        chain = self._chain(route, latest, not_before, in_regular_time=in_regular_time)
        return self._enter(chain, BayChoice(chain, None))

    def _chain(self, route: Route, latest: Sequence[int], not_before: tuple[int, int] | None, *, in_regular_time: bool) -> Chain:
        chain = Chain(self.state, route, latest, in_regular_time=in_regular_time)
        if not_before is not None:
            chain.low[not_before[0]] = not_before[1]
        return chain

    def _enter(self, chain: Chain, choice: BayChoice) -> bool:
        """Lay a unit out and enter it once there are people and packs for every step; False, with nothing changed, if not."""
        mark = self.state.save()
        try:
            while True:
                self._lay_out(chain, choice)
                booking = Booking(self.state, chain.route, chain.at, chain.classes)
                fault = booking.name()
                if fault is None:
                    booking.enter()
                    return True
                self.state.restore(mark)
                chain.strike(*fault)
        except NoRoomError:
            self.state.restore(mark)
            return False

    def _lay_out(self, chain: Chain, choice: BayChoice) -> None:
        """Give every step of a unit its start."""
        route, k = chain.route, 0
        chain.low[route.body] = max(chain.low[route.body], earliest_body(chain))
        while k <= len(route.segments):
            jump = pick_up(chain) if k == len(route.segments) else choice.place(route.segments[k])
            if jump is None:
                if k < len(route.segments) and route.segments[k].stay >= 0 and not route.segments[k].begun:
                    tighten(chain, route.segments[k])
                k += 1
                continue
            chain.spend()
            if jump.slot > chain.latest[jump.at]:
                raise NoRoomError
            chain.low[jump.at] = max(chain.low[jump.at], jump.slot)
            k = route.segment_of[jump.at]

    def remove(self, path: Path) -> None:
        """Take a unit out if it is in."""
        take_out(self.state, self.route_of[path.unit])

    def put(self, path: Path, placed: Placed) -> None:
        """Place a unit as a whole solution has it."""
        booking = self.booking(path, placed)
        for step in booking.route.steps:
            booking.add(step, placed.crew[step.index], placed.draws[step.index])
        booking.enter()

    def fill(self, paths: Sequence[Path]) -> bool:
        """Take all units out and put these in, one after the other; False where one does not fit. There is no way back."""
        for path in self.net.paths:
            self.remove(path)
        self.state.settle()
        for path in paths:
            if not self.insert(path):
                return False
            self.state.settle()
        return True

    def put_all(self, placed: Placed) -> None:
        """Put everything where a solution has it; what is there already stays. There is no way back."""
        paths = [path for path in self.net.paths if not self.state.has(path, placed)]
        for path in paths:
            self.remove(path)
            self.state.settle()
        for path in paths:
            self.put(path, placed)
            self.state.settle()

    def booking(self, path: Path, placed: Placed) -> Booking:
        """Begin to book a unit at the starts and in the classes that a solution has for it."""
        route = self.route_of[path.unit]
        stays = [step.activity.stay for step in route.steps]
        classes = [placed.bay_class[k] if k >= 0 else YARD for k in stays]
        return Booking(self.state, route, placed.start[path.first : path.last + 1], classes)

    def class_of(self, i: int) -> int:
        """Bay class of an activity."""
        k = self.net.activities[i].stay
        return self.state.bay_class[k] if k >= 0 else YARD
