"""Keep what still works: units go back to where people were told, one by one, and those that cannot are named with the rule."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from scheduler.activities.network import Lag, Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.obstacles import Obstacle, lags_into, of_presence, of_stay, of_step, of_waits
from scheduler.search.as_told import AsTold
from scheduler.search.booking import Booking
from scheduler.search.crew_choice import Crew, choose
from scheduler.search.insertion import Inserter
from scheduler.search.state import State
from scheduler.search.steps import Step
from scheduler.search.stock_choice import Draws, draw


@dataclass
class Stander:
    """Puts units back where a solution has them, if they may still stand there.

    Attributes
    ----------
    told : Placed
        The solution that people were told.
    """

    inserter: Inserter
    told: Placed
    into: list[list[Lag]] = field(init=False)
    quick: AsTold = field(init=False)

    def __post_init__(self) -> None:
        self.into = lags_into(self.inserter.net)
        self.quick = AsTold(self.inserter, self.told)

    @property
    def net(self) -> Network:
        """The network."""
        return self.inserter.net

    @property
    def state(self) -> State:
        """The state into which units are put."""
        return self.inserter.state

    def stand(self, path: Path) -> Obstacle | None:
        """Put a unit back; with nothing changed, the first obstacle where it cannot stand.

        Where only a person or a lot is missing, somebody else who is free and other packs take their place.
        """
        placed = self.told
        if self.quick.put(path):
            return None
        for early in (*of_waits(self.net, self.into, placed, path), *self._of_places(path)):
            return early
        mark, booking = self.state.save(), self.inserter.booking(path, placed)
        for step in booking.route.steps:
            found = self._fit(step, booking)
            if isinstance(found, Obstacle):
                self.state.restore(mark)
                return found
            booking.add(step, *found)
        booking.enter()
        return None

    def _of_places(self, path: Path) -> Iterable[Obstacle]:
        yield from of_presence(self.state, self.told, path)
        for k in path.stays:
            yield from of_stay(self.state, self.told, k)

    def _fit(self, step: Step, booking: Booking) -> tuple[Crew, Draws] | Obstacle:
        """People and packs for a step, beside what the unit's steps before it hold."""
        told, activity, i = self.told, step.activity, step.index
        replaceable, own = {"crew_skills", "lifting", "respirator_hours"}, booking.held.worn
        found = list(of_step(self.state, told, i, own))
        for obstacle in found:
            if obstacle.rule not in replaceable | {"cartridge_stock"}:
                return obstacle
        start, crew, draws = told.start[i], told.crew[i], told.draws[i]
        clash = booking.own_clash(step, start)
        if clash is not None:
            return Obstacle(clash.rule, i, start)
        if any(o.rule in replaceable for o in found):
            other = choose(self.state, step, start, own)
            if other is None:
                return next(o for o in found if o.rule in replaceable)
            crew = other
        if activity.product and (any(o.rule == "cartridge_stock" for o in found) or (activity.packs and not draws)):
            packs = draw(self.state, activity, start)
            if packs is None:
                return Obstacle("cartridge_stock", i, start, activity.product)
            draws = packs
        return crew, draws


def in_order_told(paths: Iterable[Path], told: Placed) -> list[Path]:
    """Units as they come in the told solution: what is on the site first, then by the start of their first step."""
    return sorted(paths, key=lambda p: (not p.since_start, told.start[p.first], p.first))


def stand_all(stander: Stander, paths: Iterable[Path]) -> dict[str, Obstacle]:
    """Put back as many of the units as can stand; the others by unit with their obstacles."""
    fallen: Mapping[str, Obstacle | None] = {p.unit: stander.stand(p) for p in in_order_told(paths, stander.told)}
    return {unit: obstacle for unit, obstacle in fallen.items() if obstacle is not None}
