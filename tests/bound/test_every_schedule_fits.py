"""Every schedule fits into the relaxation, and none is below its bound: over random shops of any kind, also part way through."""

import pytest
from random_shop import random_shop
from wild_shop import replanned, wild_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.bound.tighten import Tightener
from scheduler.pipeline import plan
from scheduler.search.settings import Settings
from tests.bound.holds import faults, some_schedules


def _judge(net: Network, seed: int, steps: int) -> int:
    """Tighten step by step and hold every schedule against the bound at the end; return how many there were."""
    tightener = Tightener(net)
    schedules = some_schedules(net, seed)
    tightener.learn([better.placed for better in schedules[:1]])
    for _ in range(steps):
        if not tightener.done:
            tightener.step()
    for better in schedules:
        assert faults(tightener, better) == [], f"seed {seed}"
    return len(schedules)


@pytest.mark.parametrize("seed", range(1, 5))
def test_random_shops(seed: int) -> None:
    """Shops with few difficulties, which always have a schedule."""
    assert _judge(build_network(random_shop(seed, 2 + seed % 5)).network, seed, 8)


@pytest.mark.parametrize("seed", range(40, 47))
def test_wild_shops(seed: int) -> None:
    """Closures, changes of the clocks, odd grids, opened packs, repairs."""
    _judge(build_network(wild_shop(seed, 2 + seed % 5)).network, seed, 8)


@pytest.mark.parametrize("seed", range(60, 61))
def test_shops_part_way_through(seed: int) -> None:
    """Some work is done, units are on the site, a step may be pinned."""
    shop = random_shop(seed, 4)
    later = replanned(shop, plan(shop, Settings(moves=2)).schedule, seed)
    _judge(build_network(later).network, seed, 8)
