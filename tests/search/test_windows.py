"""CP-SAT on a few units at a time: it finds what moves do not, and the same again with the same seed."""

from dataclasses import replace

import pytest
from random_shop import random_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.improve import Improver
from scheduler.search.value import lateness
from scheduler.search.windows import Windows
from search.recount import picture, recount


@pytest.fixture(scope="module")
def net() -> Network:
    """A shop whose orders are due eleven days sooner than they were."""
    found = build_network(random_shop(4, 6)).network
    return replace(found, dues=tuple(replace(d, late=tuple(max(0, days + 11) for days in d.late)) for d in found.dues))


@pytest.fixture(scope="module")
def first(net: Network) -> Placed:
    """A first schedule."""
    found = Improver(net, 1).first()
    assert found is not None
    return found.placed


def _better(net: Network, placed: Placed) -> list[Placed]:
    windows, found = Windows(net, 1), list[Placed]()
    for _ in range(2):
        better = windows.better(found[-1] if found else placed)
        if better is not None:
            found.append(better)
    return found


def test_each_find_is_less_late_than_the_one_before_and_repeats_itself(net: Network, first: Placed) -> None:
    """Two windows from a first schedule; what they find is whole, and found again with the same seed."""
    found = _better(net, first)
    late = [lateness(net, placed.start) for placed in (first, *found)]
    assert len(late) > 1
    assert late == sorted(set(late), reverse=True)
    improver = Improver(net, 1)
    for path in net.paths:
        improver.inserter.put(path, found[-1])
    assert picture(improver.state) == recount(net, improver.state)
    assert _better(net, first) == found


def test_nothing_late_means_no_window(net: Network, first: Placed) -> None:
    """Windows are for lateness; without any the search of windows is at its end."""
    in_time = replace(net, dues=tuple(replace(d, late=(0,) * len(d.late)) for d in net.dues))
    windows = Windows(in_time, 1)
    while not windows.exhausted:
        assert windows.better(first) is None
