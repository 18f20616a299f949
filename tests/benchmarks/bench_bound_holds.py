"""No checked schedule is below its bound: a counted hunt over many small random shops.

    PYTHONPATH=.:tests python -m tests.benchmarks.bench_bound_holds 250 751

takes 250 shops from number 751 on. Each is planned with a few moves and the plan is checked; it and every schedule of the search
met on the way, which are not checked one by one, are held against chains, rows and bound of the relaxation, the bound after some
cuts included. Half of the shops are wild, every fifth is part way through its work.
"""

import sys
from collections import Counter
from random import Random

from scheduler.activities.build import build_network
from scheduler.bound.branch import Brancher
from scheduler.bound.tighten import Tightener, whole_days
from scheduler.pipeline import NoScheduleError, plan
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop
from tests.bound.holds import faults, some_schedules
from tests.random_shop import random_shop
from tests.wild_shop import replanned, wild_shop

ROUNDS, CASES, MOVES = 5, 3, 4


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
    cut, schedules = _cut(tightener), some_schedules(net, seed, MOVES)
    met["shops"] += 1
    met["schedules"] += len(schedules)
    met["shops whose bound is above 0"] += cut > 0
    met["shops whose bound is reached"] += any(better.value.lateness == cut for better in schedules)
    met["shops whose bound rises by cutting"] += cut > tightener.bound
    for better in schedules:
        found = faults(tightener, better)
        if cut > better.value.lateness:
            found.append(f"bound {cut} after cutting above a schedule of {better.value.lateness}")
        for fault in found:
            met["faults"] += 1
            print(f"seed {seed}: {fault}", flush=True)


def _cut(tightener: Tightener) -> int:
    """Bound after some cases were cut in two, which look for crowded hours of their own."""
    brancher = Brancher(tightener)
    for _ in range(CASES):
        if tightener.fits and not brancher.done:
            brancher.step()
    return whole_days(tightener.net, brancher.value)


if __name__ == "__main__":
    print(dict(hunt(*(int(word) for word in sys.argv[1:]))))
