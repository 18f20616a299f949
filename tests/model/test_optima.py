"""The optimum of small networks by trying everything is that of CP-SAT, and insertion is never better."""

import threading

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.tiny_networks import SLOTS, due, network, step
from model.tried import by_trying_everything, small
from scheduler.search.bound import quick_bounds
from scheduler.search.improve import Improver
from scheduler.search.prove import Effort, prove
from scheduler.search.value import lateness

EFFORT = Effort(10.0, 1, 1)


@settings(max_examples=12, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_cp_sat_finds_the_optimum_and_insertion_nothing_below_it(seed: int) -> None:
    """Trying all starts of four steps gives the least weighted lateness, or says that there is none."""
    net = small(seed)
    least = by_trying_everything(net)
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
    found = {by_trying_everything(small(seed)) for seed in range(8)}
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
