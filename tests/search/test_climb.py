"""Proof from below: no start of a good schedule is left out, and the level that is reached is the least lateness."""

import threading
import time

import pytest

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.leeway import Leeway
from scheduler.bound.tighten import Tightener
from scheduler.model.alike_units import pairs_alike
from scheduler.search.climb import climb
from scheduler.search.climb_process import ClimbProcess
from scheduler.search.clock import Clock
from scheduler.search.improve import Improver
from scheduler.search.level import Level
from scheduler.search.narrow import narrow
from scheduler.search.other_core import OtherCore
from scheduler.search.prove import Effort, prove
from scheduler.search.settings import Settings
from scheduler.search.value import lateness
from tests.bound.holds import some_schedules
from tests.published import job_shop
from tests.random_shop import random_shop
from tests.wild_shop import wild_shop

ENOUGH = 30
"""Days late that are above the least lateness of these shops."""


def _network(seed: int) -> Network:
    return build_network(random_shop(seed, 3 + seed % 4, days=14)).network


def _faults(net: Network, seed: int, rounds: int) -> list[str]:
    """Steps of schedules whose starts are left out at a limit that the schedule keeps."""
    tightener = Tightener(net)
    for _ in range(rounds):
        tightener.step()
    leeway, found = Leeway(tightener), []
    for better in some_schedules(net, seed):
        starts = leeway.starts(better.value.lateness)
        if not narrow(net, starts):
            found.append(f"nothing left for {better.value.lateness} days")
            continue
        for i, (activity, start) in enumerate(zip(net.activities, better.placed.start, strict=True)):
            c = better.placed.bay_class[activity.stay] if activity.stay >= 0 else 0
            if not starts[i].get(c, 0) >> start & 1:
                found.append(f"{activity.key} at {start} is left out at {better.value.lateness} days")
    return found


@pytest.mark.parametrize("seed", range(12))
def test_starts_of_a_schedule_are_within_its_own_lateness(seed: int) -> None:
    """Whatever the prices, before the bound is tightened and after it."""
    net = _network(seed)
    assert _faults(net, seed, 0) == []
    assert _faults(net, seed, 8) == []


@pytest.mark.parametrize("seed", range(8))
def test_starts_hold_on_shops_with_everything_unusual(seed: int) -> None:
    """The same on shops with pinned and done work, repairs, closures, hired lifts."""
    net = build_network(wild_shop(seed)).network
    assert _faults(net, seed, 4) == []


def test_a_level_leaves_fewer_starts_than_there_are() -> None:
    """A limit at the bound cuts, or the whole of it would be for nothing."""
    net = _network(1)
    tightener = Tightener(net)
    for _ in range(10):
        tightener.step()
    starts = Leeway(tightener).starts(tightener.bound)
    assert narrow(net, starts)
    left = sum(mask.bit_count() for row in starts for mask in row.values())
    assert left < 0.7 * sum(mask.bit_count() for a in net.activities for mask in a.starts.values())


@pytest.mark.parametrize("seed", [4, 8])
def test_the_climb_ends_at_the_lateness_that_the_whole_model_proves(seed: int) -> None:
    """With all starts and eight workers CP-SAT comes to the same."""
    net = _network(seed)
    answer = prove(net, "lateness", {}, None, Effort(60, 1, 8), threading.Event())
    assert answer.proven
    assert answer.placed is not None
    last = [*climb(net, lateness(net, answer.placed.start) + 5, 1)][-1]
    assert last.bound == answer.objective
    assert _lateness(net, last.placed) == answer.objective
    assert [*climb(net, answer.objective or 0, 1)][-1:] in ([], [Level(answer.objective or 0)])


def _lateness(net: Network, placed: Placed | None) -> int | None:
    return None if placed is None else lateness(net, placed.start)


def test_with_counted_effort_the_climb_is_the_same_again() -> None:
    """Rounds and deterministic time are counted; too little of it leaves a bound and no schedule."""
    net = _network(4)
    assert [*climb(net, ENOUGH, 1, 3, 0.05)] == [*climb(net, ENOUGH, 1, 3, 0.05)]


def test_units_that_are_alike_are_of_one_order_and_differ_in_nothing() -> None:
    """Pairs share windows, films and due date; in a shop in which every unit has its own size there are none."""
    net = _network(3)
    for first, then in pairs_alike(net):
        assert first.order == then.order
        assert [a.windows for a in net.activities[first.first : first.last + 1]] == [
            a.windows for a in net.activities[then.first : then.last + 1]
        ]


def test_the_process_tells_what_the_climb_finds() -> None:
    """Bound and schedule come over from the other process as they are."""
    net = _network(5)
    first = Improver(net, 1).first()
    assert first is not None
    levels = [*climb(net, first.value.lateness, 1, known=first.placed)]
    with ClimbProcess(net, first.placed, 1) as process:
        until = time.monotonic() + 60
        while process.working() and time.monotonic() < until:
            time.sleep(0.05)
    assert process.bound == levels[-1].bound
    assert process.news() == levels[-1].placed is not None
    assert process.news() is None


def test_the_other_core_hands_the_proven_schedule_out_once() -> None:
    """It says how it was found, and the climb is over with it."""
    net = _network(5)
    other = OtherCore(net, Settings(cores=1), Clock(60), 0.8)
    first, placed = Improver(net, 1).first(), None
    assert first is not None
    other.climb(first.placed)
    until = time.monotonic() + 60
    while placed is None and time.monotonic() < until:
        time.sleep(0.05)
        placed = other.tend(first.placed, None)
    assert placed is not None
    assert other.found_by == "cp-sat"
    assert lateness(net, placed.start) == other.bound
    assert other.end() is None
    assert other.tend(first.placed, None) is None


def test_with_very_many_levels_it_works_down_from_what_is_known() -> None:
    """A published job shop: better schedules one after the other, the last one optimal, the bound never above it."""
    net, optimum = job_shop("ft06")
    first = Improver(net, 1).first()
    assert first is not None
    known = [*climb(net, first.value.lateness + 60, 1, known=first.placed)]
    found = [lateness(net, level.placed.start) for level in known if level.placed is not None]
    assert found == sorted(found, reverse=True)
    assert found[-1] == known[-1].bound == optimum
    assert all(level.bound <= optimum for level in known)
