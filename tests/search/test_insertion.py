"""Insertion keeps every wait, and removal leaves no trace."""

import pytest

from scheduler.activities.build import build_network
from scheduler.search.improve import Improver
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
