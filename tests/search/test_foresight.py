"""Foresight: starts that are left out cannot be used, those that are left can, each wait looked at alone."""

from random import Random

import pytest
from random_shop import random_shop
from wild_shop import wild_shop

from scheduler.activities.build import build_network
from scheduler.activities.masks import bits
from scheduler.activities.network import Lag, Network, Path
from scheduler.search.foresight import Foresight
from scheduler.search.improve import Improver

SHOPS = [(random_shop, 1), (random_shop, 6), (wild_shop, 3), (wild_shop, 8)]


def _waits(net: Network, path: Path) -> list[Lag]:
    return [lag for lag in net.lags if path.first <= lag.then <= path.last]


@pytest.mark.parametrize(("make", "seed"), SHOPS)
def test_a_start_is_left_out_for_a_wait_only_if_nothing_lies_in_it(make: object, seed: int) -> None:
    """For each wait with a maximum, some starts drawn at random: left out means that a plain loop finds no partner."""
    net, random = build_network(make(seed, 4)).network, Random(seed)  # type: ignore[operator]
    foresight = Foresight(net)
    for path in net.paths:
        for lag in (wait for wait in _waits(net, path) if wait.latest):
            left = foresight.starts(path, [lag])
            first = net.activities[lag.first]
            for c, mask in left[lag.first - path.first].items():
                before = [s for s in bits(first.starts[c]) if s + first.slots <= net.slots]
                for start in random.sample(before, min(12, len(before))):
                    assert bool(mask >> start & 1) == _has_partner(net, lag, c, start)


def _has_partner(net: Network, lag: Lag, bay_class: int, start: int) -> bool:
    first, then = net.activities[lag.first], net.activities[lag.then]
    end = start + first.slots
    low = end + sum(net.activities[i].slots for i in range(lag.first + 1, lag.then))
    low = max(low, lag.earliest[bay_class][end]) if bay_class in lag.earliest else low
    classes = [bay_class] if first.stay == then.stay else list(then.starts)
    slots = range(low, min(lag.latest[bay_class][end], net.slots - then.slots) + 1)
    return any(then.starts[c] >> slot & 1 for c in classes for slot in slots)


@pytest.mark.parametrize(("make", "seed"), SHOPS)
def test_no_solution_uses_a_start_that_was_left_out(make: object, seed: int) -> None:
    """All waits together, against a whole solution of the shop."""
    net = build_network(make(seed, 5)).network  # type: ignore[operator]
    better = Improver(net, 1).first()
    assert better is not None
    foresight = Foresight(net)
    for path in net.paths:
        left = foresight.starts(path, _waits(net, path))
        for i in range(path.first, path.last + 1):
            stay = net.activities[i].stay
            c = better.placed.bay_class[stay] if stay >= 0 else 0
            assert left[i - path.first][c] >> better.placed.start[i] & 1
