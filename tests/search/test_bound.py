"""Bounds: no schedule is below them, and where nothing competes they are reached."""

from datetime import timedelta

import pytest
from random_shop import random_shop
from tiny_shop import LOTS, MONDAY, ORDER, SURFACE, UNIT, tiny_shop
from wild_shop import wild_shop

from scheduler.activities.build import build_network
from scheduler.activities.subset import subset
from scheduler.search.bound import quick_bounds
from scheduler.search.improve import Improver


@pytest.mark.parametrize(("make", "seed"), [(random_shop, s) for s in range(1, 7)] + [(wild_shop, s) for s in range(20, 27)])
def test_no_schedule_is_below_the_bounds(make: object, seed: int) -> None:
    """Lateness, packs and the end of every unit, over random shops of any kind."""
    net = build_network(make(seed, 5)).network  # type: ignore[operator]
    improver, bounds = Improver(net, seed), quick_bounds(net)
    found = improver.first()
    assert found is not None
    improver.run(lambda moves: moves / 15, lambda _better: None)
    assert improver.best is not None
    for better in (found, improver.best):
        assert bounds.lateness <= better.value.lateness
        assert bounds.spent_ppm <= better.value.spent_ppm
        for path, least in zip(net.paths, bounds.ends, strict=True):
            assert least <= better.placed.start[path.last] + net.activities[path.last].slots


@pytest.mark.parametrize("seed", range(1, 7))
def test_a_unit_with_the_shop_to_itself_ends_when_the_bound_says(seed: int) -> None:
    """Each unit of a random shop alone: insertion cannot be told from the bound."""
    whole = build_network(random_shop(seed, 4)).network
    for path in whole.paths:
        alone = subset(whole, {path.unit})
        better = Improver(alone, 1).first()
        assert better is not None
        last = alone.paths[0].last
        end = better.placed.start[last] + alone.activities[last].slots
        assert quick_bounds(alone).ends == (end,)
        assert quick_bounds(alone).lateness == better.value.lateness


def test_the_bound_of_the_tiny_unit_is_its_schedule_by_hand() -> None:
    """Received on Monday at 06:00, handed back on Wednesday at 08:00, two days after 76 slots of work: slot 84."""
    shop = tiny_shop(units=[{"unit_id": "U1", **UNIT}], surfaces=[{"unit_id": "U1", **SURFACE}])
    built = build_network(shop)
    (end,) = quick_bounds(built.network).ends
    assert built.grid.end_of(end) == MONDAY + timedelta(days=2, hours=2)


def test_days_late_of_the_bound_are_weighted() -> None:
    """Due on Monday evening and not ready before Wednesday at 08:00: two days, three times."""
    shop = tiny_shop(
        units=[{"unit_id": "U1", **UNIT}],
        surfaces=[{"unit_id": "U1", **SURFACE}],
        orders=[{**ORDER, "due_at": MONDAY + timedelta(hours=11), "weight": 3}],
    )
    assert quick_bounds(build_network(shop).network).lateness == 6


def test_packs_of_the_bound_are_those_of_all_films_together() -> None:
    """Two units of 1250 mL of primer fill two cans; 20 L of lining are 20 cartridges, 19 if an opened one gives a litre.

    Each of the 20 that are started, new or not, wastes 60 of 1100 mL.
    """
    net = build_network(tiny_shop()).network
    purged = 20 * 60_000_000 // 1100
    assert quick_bounds(net).spent_ppm == 22_000_000 + purged
    opened = [{"pack_id": "X1", "lot_id": LOTS[0]["lot_id"], "opened_on": MONDAY.date(), "remaining_ml": 1100}]
    assert quick_bounds(build_network(tiny_shop(opened=opened)).network).spent_ppm == 21_000_000 + purged
