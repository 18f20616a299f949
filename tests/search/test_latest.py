"""Latest starts of a unit: no whole solution has a step after its latest start for the end that the unit has there."""

import pytest
from random_shop import random_shop
from wild_shop import wild_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.search.improve import Improver
from scheduler.search.latest import Latest
from scheduler.shop.shop import Shop


def _improver(shop: Shop) -> Improver:
    improver = Improver(build_network(shop).network, 1)
    assert improver.first() is not None
    return improver


@pytest.mark.parametrize("shop", [random_shop(2, 6), random_shop(9, 7), wild_shop(3, 5), wild_shop(15, 6)])
def test_no_step_of_a_solution_starts_later_than_its_unit_can_afford(shop: Shop) -> None:
    """For the very slot by which each unit ends; a slot less, and the last step is too late."""
    improver = _improver(shop)
    net, start = improver.net, improver.state.start
    improver.run(lambda moves: moves / 40, lambda _better: None)
    latest, told = Latest(net.slots), 0
    for route in improver.inserter.routes:
        end = start[route.path.last] + net.activities[route.path.last].slots
        in_time, sooner = latest.starts(route, end), latest.starts(route, end - 1)
        told += sum(slot < net.slots for slot in in_time)
        assert all(start[step.index] <= in_time[step.offset] for step in route.steps)
        assert end >= net.slots or start[route.path.last] > sooner[-1]
    assert told > 0


def test_waits_and_closed_hours_count() -> None:
    """Latest starts of the steps before a wait leave more than the steps after it take."""
    improver = _improver(random_shop(2, 6))
    net: Network = improver.net
    route = next(route for route in improver.inserter.routes if any(step.leads for step in route.steps))
    end = improver.state.start[route.path.last] + net.activities[route.path.last].slots
    in_time = Latest(net.slots).starts(route, end)
    short = [end - sum(step.slots for step in route.steps[k:]) for k in range(len(route.steps))]
    assert all(a <= b for a, b in zip(in_time[route.body :], short[route.body :], strict=True))
    assert any(a < b for a, b in zip(in_time[route.body :], short[route.body :], strict=True))


def test_an_end_that_calendar_and_waits_forbid_changes_nothing() -> None:
    """A unit that is to end before its own steps could is not put in."""
    improver = _improver(random_shop(2, 6))
    path = improver.net.paths[0]
    improver.inserter.remove(path)
    assert not improver.inserter.insert(path, 1)
    assert path.unit not in improver.state.present
