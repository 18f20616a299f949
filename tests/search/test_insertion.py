"""Insertion keeps every wait, and removal leaves no trace."""

from dataclasses import replace
from itertools import product

import pytest

from scheduler.activities.build import build_network
from scheduler.activities.network import Path
from scheduler.search.improve import Improver
from scheduler.search.insertion import Inserter
from tests.benchmarks.families import family
from tests.random_shop import random_shop


@pytest.mark.parametrize("seed", [1, 4, 9])
def test_every_wait_holds(seed: int) -> None:
    """Each lag of the network, in the class of bays where its first step is."""
    net = build_network(random_shop(seed, 8)).network
    improver = Improver(net, seed)
    assert improver.first() is not None
    start = improver.state.start
    for lag in net.lags:
        end, at = start[lag.first] + net.activities[lag.first].slots, improver.inserter.class_of(lag.first)
        assert at not in lag.earliest or start[lag.then] >= lag.earliest[at][end]
        assert at not in lag.latest or start[lag.then] <= lag.latest[at][end]


def test_removing_everything_leaves_the_state_as_it_was() -> None:
    """Counters, people and packs are back where they began."""
    net = build_network(random_shop(4, 6)).network
    improver, fresh = Improver(net, 1), Improver(net, 1)
    assert improver.first() is not None
    for path in net.paths:
        improver.inserter.remove(path)
    state = improver.state
    people = range(len(net.workers))
    assert [state.hours.free(w) for w in people] == [fresh.state.hours.free(w) for w in people]
    assert state.left_ul == fresh.state.left_ul
    assert state.work == fresh.state.work
    assert not state.present
    for counter in (*state.pools, *state.bays, *state.dust, *state.vapour):
        assert counter.over(0) == 0


def test_a_restored_state_is_the_saved_one() -> None:
    """Undo of a move is exact."""
    net = build_network(random_shop(2, 6)).network
    improver = Improver(net, 1)
    assert improver.first() is not None
    before, saved = improver.state.placed(), improver.state.save()
    improver.inserter.remove(net.paths[0])
    assert improver.state.placed() != before
    improver.state.restore(saved)
    assert improver.state.placed() == before


@pytest.mark.parametrize(("name", "seed"), [("L-many-tight-indoor-large", 1), ("L-few-tight-outdoor-small", 2)])
def test_a_unit_goes_in_as_early_as_on_the_best_way_through_the_bays(name: str, seed: int) -> None:
    """Units of a full shop are taken out and put in again: no choice of bays, each tried by itself, ends sooner.

    A bay that is free first but soon taken again must not hide one of the same climate that is free later and for longer.
    """
    improver = Improver(build_network(family(name).shop(seed)).network, 1)
    assert improver.first() is not None
    inserter, inserter.random = improver.inserter, None
    for path in inserter.net.paths[::8]:
        inserter.remove(path)
        mark = inserter.state.save()
        soonest = min(_ends_on_every_way(inserter, path))
        assert inserter.insert(path)
        assert _end(inserter, path) == soonest
        inserter.state.restore(mark)


@pytest.mark.parametrize(("name", "seed"), [("M-few-tight-indoor-large", 1), ("L-many-tight-indoor-large", 1)])
def test_a_unit_that_is_taken_out_goes_back_in_time(name: str, seed: int) -> None:
    """Whichever bays are drawn, a unit whose old place is free is never said not to fit by its old end."""
    improver = Improver(build_network(family(name).shop(seed)).network, 1)
    assert improver.first() is not None
    inserter, inserter.random = improver.inserter, improver.random
    for path in inserter.net.paths[::2]:
        mark, end = inserter.state.save(), _end(inserter, path)
        inserter.remove(path)
        assert inserter.insert(path, end), path.unit
        assert _end(inserter, path) <= end
        inserter.state.restore(mark)


def _ends_on_every_way(inserter: Inserter, path: Path) -> list[int]:
    route, ends = inserter.route_of[path.unit], []
    for classes in product(*(segment.classes for segment in route.segments)):
        mark = inserter.state.save()
        segments = tuple(replace(segment, classes=(c,)) for segment, c in zip(route.segments, classes, strict=True))
        inserter.route_of[path.unit] = replace(route, segments=segments)
        ends += [_end(inserter, path)] if inserter.insert(path) else []
        inserter.state.restore(mark)
    inserter.route_of[path.unit] = route
    return ends


def _end(inserter: Inserter, path: Path) -> int:
    return inserter.state.start[path.last] + inserter.net.activities[path.last].slots
