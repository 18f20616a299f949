"""The second search on the other core: what it finds is whole and better, it follows the bound, and the search takes it in."""

import time
from dataclasses import replace

import pytest
from random_shop import random_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.bound import quick_bounds
from scheduler.search.clock import Clock
from scheduler.search.improve import Improver
from scheduler.search.other_core import OtherCore
from scheduler.search.outcome import Journal
from scheduler.search.second import Errand, SecondSearch
from scheduler.search.settings import Settings
from scheduler.search.solve import _Search
from scheduler.search.value import goal_order, ranked, value_of
from search.recount import picture, recount

GOALS = goal_order()
LONGEST_S = 60


@pytest.fixture(scope="module")
def net() -> Network:
    """A shop whose orders are due twelve days sooner than they were."""
    found = build_network(random_shop(4, 6)).network
    return replace(found, dues=tuple(replace(d, late=tuple(days + 12 for days in d.late)) for d in found.dues))


@pytest.fixture(scope="module")
def first(net: Network) -> Placed:
    """A first schedule."""
    found = Improver(net, 1).first()
    assert found is not None
    return found.placed


def _news(second: SecondSearch) -> Placed:
    began, found = time.monotonic(), None
    while found is None and time.monotonic() - began < LONGEST_S:
        time.sleep(0.05)
        found = second.news()
    assert found is not None
    return found


def test_it_tells_a_better_solution_that_counts_as_it_says(net: Network, first: Placed) -> None:
    """From a first schedule, with the goals after lateness as well; the counters are those of a recount."""
    with SecondSearch(Errand(net, 7, GOALS, first, None, 0.0, LONGEST_S, 0.8)) as second:
        found = _news(second)
    assert ranked(value_of(net, found), GOALS) < ranked(value_of(net, first), GOALS)
    improver = Improver(net, 1)
    for path in net.paths:
        improver.inserter.put(path, found)
    assert picture(improver.state) == recount(net, improver.state)


def test_it_follows_the_bound_and_ends_with_it(net: Network, first: Placed) -> None:
    """The bound of a small shop is soon done; then the second search begins."""
    other = OtherCore(net, Settings(time_limit_s=LONGEST_S, cores=2), Clock(LONGEST_S), 0.8)
    other.raise_bound(first)
    began, found = time.monotonic(), None
    while found is None and time.monotonic() - began < LONGEST_S:
        time.sleep(0.05)
        found = other.tend(first, None)
    other.end()
    assert found is not None
    assert other.bound > 0


def test_without_one_nothing_follows_the_bound(net: Network, first: Placed) -> None:
    """With one core there is none left for it; nor is there time in a run that is nearly over."""
    alone = OtherCore(net, Settings(cores=1), Clock(LONGEST_S), 0.8)
    short = OtherCore(net, Settings(cores=2), Clock(1.0), 0.8)
    for other in (alone, short):
        assert other.tend(first, None) is None
        assert other.end() is None


def test_the_search_takes_in_what_is_better_and_nothing_else(net: Network, first: Placed) -> None:
    """A better schedule becomes the best one, here and for the next cooling; a worse one changes nothing."""
    elsewhere = Improver(net, 2)
    elsewhere.first()
    elsewhere.run(lambda moves: moves / 60, lambda _better: None)
    assert elsewhere.best is not None
    better = elsewhere.best.placed
    assert better != first
    search = _Search(net, Settings(), Journal(), Clock(LONGEST_S))
    search.bounds, search.improver = quick_bounds(net), Improver(net, 1)
    search.best = search.improver.first()
    search._take_in(better, "improvement")
    assert search.best is not None
    assert search.best.placed == better == search.improver.best.placed  # type: ignore[union-attr]
    search._take_in(first, "improvement")
    assert search.best.placed == better
