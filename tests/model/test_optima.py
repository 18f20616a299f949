"""The optimum of small networks by trying everything is that of CP-SAT, and insertion is never better."""

import itertools
import threading
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.tiny_networks import SLOTS, YARD, due, network, person, step
from scheduler.activities.network import Curve, Lag, Network
from scheduler.search.bound import quick_bounds
from scheduler.search.improve import Improver
from scheduler.search.prove import Effort, prove
from scheduler.search.value import lateness

EFFORT = Effort(10.0, 1, 1)


def _rising(random: Random, low: int, high: int) -> Curve:
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
        earliest = {YARD: _rising(random, random.randint(0, 3), SLOTS)}
        latest = {YARD: _rising(random, random.randint(4, 8), SLOTS)}
        lags.append(Lag(first, first + 1, "recoat_window", earliest, latest if random.random() < 0.5 else {}))
    late = _rising(random, 0, 9)
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


def _by_trying_everything(net: Network) -> int | None:
    every = itertools.product(*(range(SLOTS - a.slots + 1) for a in net.activities))
    return min((lateness(net, start) for start in every if _keeps_waits(net, start)), default=None)


@settings(max_examples=12, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_cp_sat_finds_the_optimum_and_insertion_nothing_below_it(seed: int) -> None:
    """Trying all starts of four steps gives the least weighted lateness, or says that there is none."""
    net = small(seed)
    least = _by_trying_everything(net)
    answer = prove(net, "lateness", {}, None, EFFORT, threading.Event())
    better = Improver(net, 1).first()
    if least is None:
        assert (answer.placed, better) == (None, None)
        return
    assert (answer.objective, answer.bound) == (least, least)
    assert answer.placed is not None
    assert lateness(net, answer.placed.start) == least
    assert quick_bounds(net).lateness <= least
    assert better is None or better.value.lateness >= least


def test_some_of_these_networks_have_late_optima_and_some_have_none() -> None:
    """The test above meets both: an optimum above nothing, and no schedule at all."""
    found = {_by_trying_everything(small(seed)) for seed in range(8)}
    assert any(least for least in found)
    assert len(found) > 2


def test_an_overdue_order_costs_its_lateness_whatever_is_done() -> None:
    """Late by 2 days before the first slot and by 3 from slot 6 on: the model counts all of it, twice for its weight."""
    late = tuple(2 if end <= 6 else 3 for end in range(SLOTS + 1))
    net = network(step("A/work", 4), dues=(due((0,), late, weight=2),))
    answer = prove(net, "lateness", {}, None, EFFORT, threading.Event())
    assert (answer.objective, answer.bound) == (4, 4)


@pytest.mark.parametrize(("together", "least"), [(True, 3), (False, 5)])
def test_history_counts_in_the_lateness_of_an_order(together: bool, least: int) -> None:
    """One unit came back 3 days late, another cannot but be 2 days late: 3 days together, 5 singly."""
    net = network(step("A/work", 4), dues=(due((0,), (2,) * (SLOTS + 1), settled=(3,), together=together),))
    answer = prove(net, "lateness", {}, None, EFFORT, threading.Event())
    assert (answer.objective, lateness(net, (0,))) == (least, least)
