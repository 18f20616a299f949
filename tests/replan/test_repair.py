"""Repair keeps what works, moves what is broken, and whatever comes out passes the checker."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from scheduler.activities.build import Built, build_network
from scheduler.activities.masks import below
from scheduler.activities.network import Network, Path, meet
from scheduler.activities.placed import Placed
from scheduler.activities.reread import Reread, reread
from scheduler.pipeline import Plan, checked, plan
from scheduler.replan.few_changes import FewChanges
from scheduler.replan.frozen import freeze
from scheduler.replan.moved import moved
from scheduler.replan.price import Price, nearness
from scheduler.replan.repair import repair
from scheduler.replan.room import KnownRoutes
from scheduler.schedule.schedule import Status
from scheduler.search.bound import quick_bounds
from scheduler.search.improve import Improver
from scheduler.search.insertion import Inserter
from scheduler.search.outcome import Outcome
from scheduler.search.settings import Settings
from scheduler.search.state import State
from scheduler.search.value import goal_order, value_of
from scheduler.shop.calendar import Closure
from scheduler.shop.shop import Shop
from tests.random_shop import random_shop

UNITS = 8


@pytest.fixture(scope="module")
def made() -> Plan:
    """Plan that people were told."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(random_shop(3, UNITS, days=40), Settings(moves=30))


def _shut(shop: Shop, what: str, which: str, begin: datetime, days: float) -> Shop:
    row = Closure(what=what, which=which, closed_from=begin, closed_until=begin + timedelta(days=days), reason="test")  # type: ignore[arg-type]
    return shop.model_copy(update={"closures": (*shop.closures, row)})


def _read(shop: Shop, made: Plan) -> tuple[Built, Reread]:
    built = build_network(shop)
    return built, reread(built, made.schedule)


def test_nothing_has_changed_and_nothing_changes(made: Plan) -> None:
    """Identity: the repair of a plan that still works is that plan."""
    built, told = _read(made.shop, made)
    repaired = repair(built.network, told.placed)
    assert repaired is not None
    assert (repaired.fallen, repaired.bumped, repaired.afresh) == ({}, (), False)
    assert repaired.placed == told.placed


@pytest.mark.parametrize(("what", "which", "days"), [("bay", "C1", 9.0), ("person", "W1", 4.0), ("equipment", "K", 2.0)])
def test_what_is_broken_is_named_and_put_elsewhere(made: Plan, what: str, which: str, days: float) -> None:
    """A lost bay, an ill person, a dead compressor: units that could stay did, and the checker takes the rest."""
    shop = _shut(made.shop, what, which, made.shop.site.plan_from + timedelta(days=4), days)
    built, told = _read(shop, made)
    net = built.network
    repaired = repair(net, told.placed)
    assert repaired is not None
    changed = {p.unit for p in moved(told.placed, repaired.placed, net.paths)}
    assert changed <= set(repaired.fallen) | set(repaired.bumped) | set(told.left_out)
    outcome = Outcome(Status.FEASIBLE, repaired.placed, value_of(net, repaired.placed), quick_bounds(net), "repair", None, 0.0)
    assert checked(shop, built, outcome, repaired.placed, Settings()).report.ok


def test_few_changes_never_costs_more_than_the_repair_and_passes_the_checker(made: Plan) -> None:
    """Forty counted moves after a lost bay: the energy that they are judged by does not rise; twice the same is the same."""
    shop = _shut(made.shop, "bay", "C1", made.shop.site.plan_from + timedelta(days=4), 9)
    built, told = _read(shop, made)
    net = built.network
    repaired = repair(net, told.placed)
    assert repaired is not None
    found = []
    for _ in range(2):
        price = Price(net, told.placed, 0.3)
        search = FewChanges(net, told.placed, repaired.placed, price, 5, goal_order(), KnownRoutes(net))
        before = search.energy
        found.append(search.run(lambda moves: moves / 40))
        assert search.best_energy <= before
        costs = [price.of(search.state, path) for path in net.paths]
        assert search.tally.total == pytest.approx(sum(costs))
        there = moved(told.placed, search.state.placed(), net.paths)
        assert search.tally.moved == sum(cost > 0 for cost in costs) == len(there)
    assert found[0] == found[1]
    outcome = Outcome(Status.FEASIBLE, found[0], value_of(net, found[0]), quick_bounds(net), "few changes", None, 0.0)
    assert checked(shop, built, outcome, found[0], Settings()).report.ok


def test_frozen_steps_stay_with_their_people_through_a_search(made: Plan) -> None:
    """What is held has one start and its own people, whatever the search does around it."""
    built, told = _read(made.shop, made)
    net = built.network
    steps = [i for i, start in enumerate(told.placed.start) if net.day[start] <= net.day[0] + 3]
    frozen = freeze(net, told.placed, steps)
    marked = frozen.marked(told.placed)
    repaired = repair(frozen.net, marked)
    assert repaired is not None
    assert repaired.fallen == {}
    routes = KnownRoutes(frozen.net)
    search = FewChanges(frozen.net, marked, repaired.placed, Price(net, told.placed, 0.0), 2, goal_order(), routes)
    found = frozen.named(search.run(lambda moves: moves / 40))
    assert steps
    assert [found.start[i] for i in steps] == [told.placed.start[i] for i in steps]
    assert [found.crew[i] for i in steps] == [told.placed.crew[i] for i in steps]


def test_a_change_tomorrow_costs_more_than_one_next_week() -> None:
    """The price falls day by day and never below the plain price."""
    days = [nearness(day) for day in range(30)]
    assert days == sorted(days, reverse=True)
    assert days[0] == 4.0
    assert days[-1] >= 1.0


def test_a_unit_with_nowhere_else_to_go_goes_first_and_others_make_room() -> None:
    """The repair is tried again with the unit ahead of all that could stand; it is named, and so are those that made room."""
    found = []
    for seed in range(1, 6):
        made = _told(seed)
        net, placed = made
        path = max(net.paths, key=lambda p: placed.start[p.first])
        last = placed.start[path.last]
        hurried = _must_end_by(net, path, last - (last - placed.start[path.first]) // 2)
        repaired = repair(hurried, placed)
        if repaired is None:
            assert not Inserter(hurried, State(hurried)).insert(path)
            continue
        assert path.unit in repaired.fallen
        assert repaired.placed.start[path.last] < last
        found.append(repaired)
    assert any(repaired.bumped and not repaired.afresh for repaired in found)


def _told(seed: int) -> tuple[Network, Placed]:
    net = build_network(random_shop(seed, UNITS, days=40)).network
    first = Improver(net, 1).first()
    assert first is not None
    return net, first.placed


def _must_end_by(net: Network, path: Path, slot: int) -> Network:
    """The network in which a unit has to be gone by a slot."""
    last = net.activities[path.last]
    windows = {**last.windows, "release": {c: mask & below(slot) for c, mask in last.windows["release"].items()}}
    row = replace(last, windows=windows, starts=meet(windows))
    return replace(net, activities=tuple(row if i == path.last else a for i, a in enumerate(net.activities)))
