"""Networks so small that every way to run them can be tried."""

import itertools
from random import Random

from model.tiny_networks import SLOTS, YARD, due, network, person, step
from scheduler.activities.network import Curve, Lag, Network
from scheduler.search.value import lateness


def rising(random: Random, low: int, high: int) -> Curve:
    """A curve that grows with the end, now and then by a night."""
    rows, at = [], low
    for _ in range(SLOTS + 1):
        rows.append(min(at, high))
        at += random.choice((0, 1, 1, 1, 3))
    return tuple(rows)


def small(seed: int) -> Network:
    """Two units of two steps, a person for each step or one for all, waits of any shape, due dates that are hard to meet."""
    random = Random(seed)
    crew = (("hand", 1),)
    steps = [step(f"{u}/{n}", random.randint(1, 3), crew=crew) for u in "AB" for n in ("first", "then")]
    lags = []
    for first in (0, 2):
        earliest = {YARD: rising(random, random.randint(0, 3), SLOTS)}
        latest = {YARD: rising(random, random.randint(4, 8), SLOTS)}
        lags.append(Lag(first, first + 1, "recoat_window", earliest, latest if random.random() < 0.5 else {}))
    late = rising(random, 0, 9)
    dues = (due((1,), late, weight=2), due((3,), tuple(max(0, days - 2) for days in late), weight=random.choice((1, 3))))
    workers = tuple(person(f"w{n}", "hand") for n in range(random.choice((1, 1, 2))))
    return network(*steps, lags=tuple(lags), dues=dues, workers=workers)


def _keeps_waits(net: Network, start: tuple[int, ...]) -> bool:
    ends = [s + a.slots for s, a in zip(start, net.activities, strict=True)]
    order = all(start[p.first + 1] >= ends[p.first] for p in net.paths)
    waits = all(
        start[lag.then] >= lag.earliest[YARD][ends[lag.first]]
        and (not lag.latest or start[lag.then] <= lag.latest[YARD][ends[lag.first]])
        for lag in net.lags
    )
    busy = [sum(s <= t < e for s, e in zip(start, ends, strict=True)) for t in range(SLOTS)]
    return order and waits and max(ends) <= SLOTS and max(busy) <= len(net.workers)


def by_trying_everything(net: Network) -> int | None:
    """Least weighted lateness over all starts that keep the rules; None if there is none."""
    every = itertools.product(*(range(SLOTS - a.slots + 1) for a in net.activities))
    return min((lateness(net, start) for start in every if _keeps_waits(net, start)), default=None)
