"""Whole days late: cutting cases raises the bound, never above the optimum, and ends."""

import pytest
from model.tiny_networks import SLOTS, due, network, step
from model.tried import by_trying_everything, small

from scheduler.activities.network import Demand, Network, Pool
from scheduler.bound.branch import Brancher
from scheduler.bound.tighten import Tightener, whole_days


def _tightened(net: Network) -> Tightener:
    tightener = Tightener(net)
    while not tightener.done and tightener.rounds < 30:
        tightener.step()
    return tightener


@pytest.mark.parametrize("seed", range(6))
def test_it_is_not_above_the_optimum_and_does_not_fall(seed: int) -> None:
    """Cut to the end, on networks whose starts are all tried."""
    net = small(seed)
    tightener = _tightened(net)
    if not tightener.fits:
        assert by_trying_everything(net) is None
        return
    brancher, values = Brancher(tightener), [tightener.best]
    for _ in range(25):
        if brancher.done:
            break
        brancher.step()
        values.append(brancher.value)
    assert values == sorted(values)
    least = by_trying_everything(net)
    assert least is None or whole_days(net, brancher.value) <= least


@pytest.mark.parametrize("together", [True, False])
def test_half_a_unit_on_time_is_no_unit_on_time(*, together: bool) -> None:
    """Two of three tools a unit, four slots until ten days late: one unit makes it, half of a second one does not."""
    late = tuple(0 if end <= 4 else 10 for end in range(SLOTS + 1))
    steps = (step(f"{unit}/work", 4, demands=(Demand(0, 2),), order=unit) for unit in "ABC")
    dues = tuple(due((i,), late, together=together) for i in range(3))
    net = network(*steps, dues=dues, pools=(Pool("tools", "air_supply", 3),))
    tightener = _tightened(net)
    brancher = Brancher(tightener)
    for _ in range(60):
        if not brancher.done:
            brancher.step()
    assert tightener.bound < 20
    assert whole_days(net, brancher.value) == 20
