"""No checked schedule is below its bound: a counted hunt over many small random shops.

    python -m tests.benchmarks.bench_bound_holds 1000

Each shop is planned with a few moves and the plan is checked; it and every schedule of the search met on the way, which are not
checked one by one, are held against chains, rows and bound of the relaxation. Half of the shops are wild, every fifth is part
way through its work.
"""

import sys
from collections import Counter
from random import Random

from scheduler.activities.build import build_network
from scheduler.bound.tighten import Tightener
from scheduler.pipeline import NoScheduleError, plan
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop
from tests.bound.holds import faults, some_schedules
from tests.random_shop import random_shop
from tests.wild_shop import replanned, wild_shop

ROUNDS, MOVES = 5, 4


def hunt(count: int, first: int = 1) -> Counter[str]:
    """Hunt through shops and count what was met; a fault is printed with its seed."""
    met: Counter[str] = Counter()
    for seed in range(first, first + count):
        shop = _shop(seed)
        if shop is None:
            met["shops without a schedule"] += 1
            continue
        _judge(shop, seed, met)
        if seed % 50 == 0:
            print(seed, dict(met), flush=True)
    return met


def _shop(seed: int) -> Shop | None:
    random = Random(seed)
    make = wild_shop if seed % 2 else random_shop
    shop = make(seed, random.randint(1, 5))
    if seed % 5:
        return shop
    try:
        return replanned(shop, plan(shop, Settings(moves=1)).schedule, seed)
    except NoScheduleError:
        return None


def _judge(shop: Shop, seed: int, met: Counter[str]) -> None:
    net = build_network(shop).network
    if not net.paths:
        met["shops with nothing left to do"] += 1
        return
    tightener = Tightener(net)
    while not tightener.done and tightener.rounds < ROUNDS:
        tightener.step()
    schedules = some_schedules(net, seed, MOVES)
    met["shops"] += 1
    met["schedules"] += len(schedules)
    met["shops whose bound is above 0"] += tightener.bound > 0
    met["shops whose bound is reached"] += any(better.value.lateness == tightener.bound for better in schedules)
    for better in schedules:
        for fault in faults(tightener, better):
            met["faults"] += 1
            print(f"seed {seed}: {fault}", flush=True)


if __name__ == "__main__":
    print(dict(hunt(*(int(word) for word in sys.argv[1:]))))
