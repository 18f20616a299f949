"""Keep what still works: units go back to where people were told, one by one, and those that cannot are named with the rule."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from scheduler.activities.network import Lag, Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.obstacles import Obstacle, class_at, lags_into, of_presence, of_stay, of_step, of_waits
from scheduler.search.booking import book, unbook
from scheduler.search.candidates import Fit
from scheduler.search.crew_choice import choose
from scheduler.search.insertion import Inserter
from scheduler.search.state import State
from scheduler.search.stock_choice import draw


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

    def __post_init__(self) -> None:
        self.into = lags_into(self.inserter.net)

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
        for early in (*of_waits(self.net, self.into, placed, path), *self._of_places(path)):
            return early
        obstacle, fits = self._try_steps(path)
        if obstacle is not None:
            return obstacle
        self.inserter.put(path, _with(placed, path, fits))
        return None

    def _of_places(self, path: Path) -> Iterable[Obstacle]:
        yield from of_presence(self.state, self.told, path)
        for k in path.stays:
            yield from of_stay(self.state, self.told, k)

    def _try_steps(self, path: Path) -> tuple[Obstacle | None, list[Fit]]:
        """Book every step to see that they fit together, and take them all out again."""
        fits: list[Fit] = []
        stopped: Obstacle | None = None
        for i in range(path.first, path.last + 1):
            found = self._fit(i)
            if isinstance(found, Obstacle):
                stopped = found
                break
            book(self.state, i, found, class_at(self.net, self.told, i))
            fits.append(found)
        for i in reversed(range(path.first, path.first + len(fits))):
            unbook(self.state, i, class_at(self.net, self.told, i))
        return stopped, fits

    def _fit(self, i: int) -> Fit | Obstacle:
        told, activity, replaceable = self.told, self.net.activities[i], {"crew_skills", "lifting", "respirator_hours"}
        found = list(of_step(self.state, told, i))
        for obstacle in found:
            if obstacle.rule not in replaceable | {"cartridge_stock"}:
                return obstacle
        start, crew, draws = told.start[i], told.crew[i], told.draws[i]
        if any(o.rule in replaceable for o in found):
            other = choose(self.state, activity, start)
            if other is None:
                return next(o for o in found if o.rule in replaceable)
            crew = other
        if activity.product and (any(o.rule == "cartridge_stock" for o in found) or (activity.packs and not draws)):
            packs = draw(self.state, activity, start)
            if packs is None:
                return Obstacle("cartridge_stock", i, start, activity.product)
            draws = packs
        return Fit(start, crew, draws)


def _with(placed: Placed, path: Path, fits: list[Fit]) -> Placed:
    """Return a solution with a unit's people and packs exchanged."""
    crew, draws = list(placed.crew), list(placed.draws)
    for i, fit in zip(range(path.first, path.last + 1), fits, strict=True):
        crew[i], draws[i] = fit.crew, fit.draws
    return replace(placed, crew=tuple(crew), draws=tuple(draws))


def in_order_told(paths: Iterable[Path], told: Placed) -> list[Path]:
    """Units as they come in the told solution: what is on the site first, then by the start of their first step."""
    return sorted(paths, key=lambda p: (not p.since_start, told.start[p.first], p.first))


def stand_all(stander: Stander, paths: Iterable[Path]) -> dict[str, Obstacle]:
    """Put back as many of the units as can stand; the others by unit with their obstacles."""
    fallen: Mapping[str, Obstacle | None] = {p.unit: stander.stand(p) for p in in_order_told(paths, stander.told)}
    return {unit: obstacle for unit, obstacle in fallen.items() if obstacle is not None}
