"""The energy that is kept up to date is the one that is worked out afresh, and no move that could stay is given up early."""

from dataclasses import asdict

import pytest
from random_shop import random_shop
from wild_shop import wild_shop

from scheduler.activities.build import build_network
from scheduler.search.energy import Energy
from scheduler.search.improve import Improver
from scheduler.search.value import goal_order, lateness


def _improver(make: object, seed: int, goals: tuple[str, ...] = ()) -> Improver:
    improver = Improver(build_network(make(seed, 7)).network, seed, goals)  # type: ignore[operator]
    assert improver.first() is not None
    return improver


@pytest.mark.parametrize(("make", "seed"), [(random_shop, 2), (random_shop, 5), (wild_shop, 9)])
@pytest.mark.parametrize("goals", [(), ("cost",), ("finish", "even_load")])
def test_what_is_kept_up_to_date_is_what_is_worked_out_afresh(make: object, seed: int, goals: tuple[str, ...]) -> None:
    """After moves that were kept and moves that were undone, for lateness first and for other orders of goals."""
    improver = _improver(make, seed, goals)
    improver.run(lambda moves: moves / 40, lambda _better: None)
    fresh = Energy(improver.net, improver.state, goal_order(goals))
    assert fresh.begin() == pytest.approx(improver.energy.value())
    assert asdict(fresh.now) == asdict(improver.energy.now)
    assert fresh.now.lateness == lateness(improver.net, improver.state.start)


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_the_latest_end_is_the_last_at_which_the_limit_is_kept(seed: int) -> None:
    """Each unit moved to every end on the axis: the lateness of all is within the limit up to that end and beyond it after."""
    improver = _improver(random_shop, seed)
    energy, net, state = improver.energy, improver.net, improver.state
    energy.begin()
    for path in net.paths:
        slots, was = net.activities[path.last].slots, state.start[path.last]
        for most in (energy.now.lateness - 1.0, energy.now.lateness + 2.5):
            state.start[path.last] = -1
            end, kept = energy.latest_end(path, most, [path]), []
            for e in range(slots, net.slots + 1):
                state.start[path.last] = e - slots
                if lateness(net, state.start) <= most:
                    kept.append(e)
            assert (kept == list(range(slots, end + 1))) or (not kept and end < slots)
            state.start[path.last] = was
