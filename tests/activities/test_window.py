"""A window on a network: what is found in it stands in the whole, with every rule kept and the lateness that it said."""

from dataclasses import replace
from random import Random

import pytest
from random_shop import random_shop
from wild_shop import wild_shop

from scheduler.activities.build import build_network
from scheduler.activities.window import window
from scheduler.pipeline import checked
from scheduler.schedule.schedule import Status
from scheduler.search.improve import Improver
from scheduler.search.outcome import Bounds, Outcome
from scheduler.search.settings import Settings
from scheduler.search.stock_choice import draws_of
from scheduler.search.value import lateness, value_of
from scheduler.shop.shop import Shop


@pytest.mark.parametrize(
    "shop", [*(random_shop(seed, 6) for seed in (1, 4, 9)), *(wild_shop(seed, 6) for seed in (3, 8, 15, 21))]
)
def test_units_put_in_by_the_window_alone_keep_to_every_rule(shop: Shop) -> None:
    """Half of the units are taken out and put in again, with only the window's network to go by; the checker judges the whole."""
    built = build_network(shop)
    net, first = built.network, Improver(built.network, 1).first()
    assert first is not None
    random = Random(3)
    for _ in range(3):
        free = {path.unit for path in random.sample(net.paths, len(net.paths) // 2)}
        part = window(net, first.placed, free, 0, net.slots)
        again = Improver(part.net, random.randint(1, 99)).first()
        assert again is not None, "what was there fits"
        found = part.whole(first.placed, again.placed)
        found = replace(found, draws=draws_of(net, found.start))
        assert lateness(part.net, again.placed.start) == lateness(net, found.start)
        outcome = Outcome(Status.FEASIBLE, found, value_of(net, found), Bounds(0, 0, (0,) * len(net.paths)), "test", None, 0.0)
        assert checked(shop, built, outcome, found, Settings(moves=1)).report.ok


def test_what_was_placed_is_a_solution_of_its_window_and_puts_itself_back() -> None:
    """Identity: the part put into the whole is the whole, and each of its starts is one that the window leaves."""
    net = build_network(random_shop(4, 6)).network
    first = Improver(net, 1).first()
    assert first is not None
    free = {path.unit for path in net.paths[:3]}
    part = window(net, first.placed, free, 0, net.slots)
    own = part.part(first.placed)
    assert part.whole(first.placed, own) == first.placed
    for activity, start, k in zip(part.net.activities, own.start, part.activities, strict=True):
        c = own.bay_class[activity.stay] if activity.stay >= 0 else 0
        assert activity.starts[c] >> start & 1, net.activities[k].key


def test_a_window_leaves_no_start_outside_its_slots() -> None:
    """Starts before the first and after the last slot of the window are gone."""
    net = build_network(random_shop(4, 6)).network
    first = Improver(net, 1).first()
    assert first is not None
    part = window(net, first.placed, {net.paths[0].unit}, 50, 90)
    starts = [mask for activity in part.net.activities for mask in activity.starts.values()]
    assert any(starts)
    assert all(mask >> 91 == 0 and mask & ((1 << 50) - 1) == 0 for mask in starts)
