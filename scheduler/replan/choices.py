"""Three choices from now on: repair only, few changes, best; each checked, with what moves against what people were told."""

import time
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from scheduler.activities.build import Built
from scheduler.activities.placed import Placed
from scheduler.activities.reread import NOWHERE, Reread
from scheduler.pipeline import NoScheduleError
from scheduler.replan.frozen import Frozen, freeze
from scheduler.replan.moved import moved
from scheduler.replan.obstacles import Obstacle
from scheduler.replan.outset import Outset, prepared_again, set_out
from scheduler.replan.pins import broken_pins, clash_of_pins
from scheduler.replan.price import Price
from scheduler.replan.repair import NoRoom, Repaired, repair
from scheduler.replan.room import KnownRoutes
from scheduler.replan.searches import Reached, Searches
from scheduler.replan.writer import Writer, is_worth_it
from scheduler.replan.writing import BEST, FEW, REPAIR, Basis, Choice, Found, write_out
from scheduler.schedule.schedule import Schedule, Status
from scheduler.search.clash import clash_of_few
from scheduler.search.clock import Clock
from scheduler.search.outcome import Clash, Outcome
from scheduler.search.routes import Routes
from scheduler.search.settings import Settings
from scheduler.search.solve import solve
from scheduler.search.value import value_of
from scheduler.shop.shop import Shop

LEAST, PROOF_S, WRITING = 0.3, 5.0, 11.0
"""Share of the time that is left to the search however long the rest takes; seconds for a proof that there is no way to go on;
how many times as long as getting ready it takes to write two choices out at the same time."""


class FrozenTooLongError(ValueError):
    """The frozen period goes past the end of the plan."""


@dataclass(frozen=True)
class Wish:
    """What a planner may set for a re-plan.

    Attributes
    ----------
    settings : Settings
        The time is for everything, writing included; moves are shared by few changes and best.
    frozen_until : datetime or None
        What is to start before it stays where people were told, if it still can.
    price : float
        Weighted days late that a moved unit is worth, far ahead; up to four times as much for one that moves today.
    """

    settings: Settings
    frozen_until: datetime | None = None
    price: float = 0.3


@dataclass(frozen=True)
class Replan:
    """The choices, and why anything has to move at all.

    Attributes
    ----------
    shop : Shop
        As it stands now, with the rework without which units that are begun find no way on.
    broken : Mapping of str to str or Obstacle
        Units that cannot stay where they were told.
    unfrozen : tuple of str
        Steps inside the frozen period, as ``unit/step``, that cannot be held.
    frontier : tuple of (int, int)
        Units that move and weighted days late, from the fewest that were found to the least late.
    """

    shop: Shop
    built: Built
    told: Reread
    choices: tuple[Choice, ...]
    broken: Mapping[str, str | Obstacle]
    unfrozen: tuple[str, ...] = ()
    frontier: tuple[tuple[int, int], ...] = ()


def replan(shop: Shop, earlier: Schedule, wish: Wish) -> Replan:
    """Work out the choices.

    Parameters
    ----------
    shop : Shop
        As it stands now; what is done is history.
    earlier : Schedule
        What people were told.
    wish : Wish

    Raises
    ------
    FrozenTooLongError
        If the frozen period is longer than the plan.
    NoScheduleError
        If there is no way to go on; its outcome says why, if that is known.
    RefusedError
        If the checker refuses one.
    """
    began = time.perf_counter()
    _refuse_too_long(shop, wish)
    with Writer(beside=is_worth_it(earlier, wish.settings)) as writer:
        return _Replanner(earlier, wish, writer, set_out(shop, earlier, wish.settings.seed), began).run()


@dataclass
class _Replanner:
    earlier: Schedule
    wish: Wish
    writer: Writer
    at: Outset
    began: float

    def run(self) -> Replan:
        if isinstance(self.at.repaired, NoRoom) and (pins := broken_pins(self.at.shop, self.at.built)):
            raise NoScheduleError(self._none(clash_of_pins(pins)))
        self.at = prepared_again(self.at)
        plain = self.at.repaired
        if isinstance(plain, NoRoom):
            return self._by_solver()
        net, routes, told = self.at.built.network, self.at.routes, self.at.told
        frozen, unfrozen = self._freeze(plain)
        begin = plain.placed
        if frozen.held:
            routes = KnownRoutes(frozen.net)
            again = repair(frozen.net, frozen.marked(told.placed), self.wish.settings.seed, routes)
            if again is None:
                frozen, routes = freeze(net, told.placed, ()), self.at.routes
            begin = plain.placed if again is None else again.placed
        rows, frontier = self._rows(frozen, routes, begin)
        if not rows:
            return self._by_solver()
        broken: dict[str, str | Obstacle] = {**told.left_out, **plain.fallen}
        inside = unfrozen if frozen.held else self._inside()
        return Replan(self.at.shop, self.at.built, told, rows, broken, inside, frontier)

    def _rows(self, frozen: Frozen, routes: Routes, begin: Placed) -> tuple[tuple[Choice, ...], tuple[tuple[int, int], ...]]:
        """Choices for which the stock goes round, and the frontier; the time that the first takes is kept for the others."""
        writer, began = self.writer, time.perf_counter()
        writer.write_from(self._basis(), self.at.routes)
        begun = [writer.begin(self._found(REPAIR, frozen, begin, self.at.took_s))] if self._in_stock(begin) else []
        writing_s = WRITING * self.at.ready_s if writer.other else 2 * (time.perf_counter() - began)
        found = self._search(frozen, routes, begin, writing_s)
        if self._in_stock(found.few):
            begun.append(writer.begin(self._found(FEW, frozen, found.few, found.few_s)))
        best = self._found(BEST, frozen, found.best, found.best_s)
        here = [writer.here(best)] if self._in_stock(found.best) else []  # while the other core is at the few changes
        rows = tuple(wait() for wait in (*begun, *here))
        return rows, tuple((point.moved, point.lateness) for point in found.frontier.points)

    def _search(self, frozen: Frozen, routes: Routes, begin: Placed, writing_s: float) -> Reached:
        limit_s = self.wish.settings.time_limit_s
        left_s = limit_s - (time.perf_counter() - self.began) - writing_s
        price, told = Price(frozen.net, self.at.told.placed, self.wish.price), frozen.marked(self.at.told.placed)
        most_s = max(left_s, LEAST * limit_s)
        return Searches(frozen.net, routes, told, begin, price, self.wish.settings, most_s, self._moved).run()

    def _basis(self) -> Basis:
        return Basis(self.at.shop, self.at.built, self.at.told.placed, self.earlier, self.at.bounds, self.wish.settings)

    def _found(self, name: str, frozen: Frozen, placed: Placed, took_s: float) -> Found:
        return Found(name, frozen.named(placed), took_s)

    def _moved(self, placed: Placed) -> int:
        return len(moved(self.at.told.placed, placed, self.at.built.network.paths))

    def _by_solver(self) -> Replan:
        """Insertion finds no place for everything: what clashes is said where that is quickly known, else the search is asked."""
        net, settings = self.at.built.network, self.wish.settings
        verdict = clash_of_few(net, Clock(PROOF_S), settings.workers)
        if verdict.proven:
            raise NoScheduleError(self._none(verdict.clash))
        outcome = solve(net, settings)
        if outcome.placed is None:
            raise NoScheduleError(outcome)
        choice = write_out(self._basis(), Found(BEST, outcome.placed, outcome.search_s), self.at.routes)
        return Replan(self.at.shop, self.at.built, self.at.told, (choice,), dict(self.at.told.left_out))

    def _none(self, clash: Clash | None) -> Outcome:
        """Say that there is no way on."""
        return Outcome(Status.INFEASIBLE, None, None, self.at.bounds, "", None, time.perf_counter() - self.began, clash=clash)

    def _freeze(self, plain: Repaired) -> tuple[Frozen, tuple[str, ...]]:
        """Hold what is inside the frozen period and still stands as it was told."""
        net, told = self.at.built.network, self.at.told.placed
        inside = [i for i in range(len(net.activities)) if self._is_inside(i)]
        broken = set(plain.fallen) | set(self.at.told.left_out)
        held = [i for i in inside if net.activities[i].unit not in broken and not self._exchanged(plain, i)]
        loose = tuple(net.activities[i].key for i in inside if i not in set(held))
        return freeze(net, told, held), loose

    def _exchanged(self, plain: Repaired, i: int) -> bool:
        """Whether somebody else had to take a step over where it stands."""
        told, unit = self.at.told.placed, self.at.built.network.activities[i].unit
        return unit not in plain.bumped and plain.placed.start[i] == told.start[i] and plain.placed.crew[i] != told.crew[i]

    def _inside(self) -> tuple[str, ...]:
        return tuple(a.key for i, a in enumerate(self.at.built.network.activities) if self._is_inside(i))

    def _is_inside(self, i: int) -> bool:
        start, until = self.at.told.placed.start[i], self.wish.frozen_until
        return until is not None and start != NOWHERE and self.at.built.grid.start_of(start) < until

    def _in_stock(self, placed: Placed) -> bool:
        """Whether the stock goes round; a choice that lacks material is none."""
        return value_of(self.at.built.network, placed).missing_ul == 0


def _refuse_too_long(shop: Shop, wish: Wish) -> None:
    if wish.frozen_until is not None and wish.frozen_until >= shop.site.plan_until:
        until, end = shop.local(wish.frozen_until), shop.local(shop.site.plan_until)
        msg = (
            f"the frozen period goes to {until:%Y-%m-%d %H:%M} and the plan ends at {end:%Y-%m-%d %H:%M}: nothing could move; "
            "give a shorter one, or a later plan_until in site.toml"
        )
        raise FrozenTooLongError(msg)
