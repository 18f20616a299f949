"""Benchmark shops: valid at the border, the same for the same seed, feasible, and late where they should be."""

from pathlib import Path

import pytest

from scheduler.activities.build import build_network
from scheduler.search.improve import Improver
from scheduler.shop.read import read_shop
from scheduler.shop.write import write_shop
from tests.benchmarks.families import SIZES, families, family

SMALL = sorted(name for name in families() if name.startswith("S-"))


def test_there_are_five_sizes_of_sixteen_families() -> None:
    """Names are told apart, and each says its size."""
    assert len(families()) == 5 * 16
    assert {name.split("-")[0] for name in families()} == set(SIZES)


def test_an_unknown_family_is_answered_with_the_known_ones_of_its_size() -> None:
    """A mistyped name names its cure."""
    with pytest.raises(KeyError, match="M-few-tight-indoor-large"):
        family("M-few-tight-indoor-huge")


@pytest.mark.parametrize("name", ["S-few-tight-outdoor-small", "M-many-loose-indoor-large"])
def test_a_benchmark_shop_could_be_typed(name: str, tmp_path: Path) -> None:
    """Written as a folder it reads back without a fault."""
    shop = family(name).shop(1)
    write_shop(shop, tmp_path)
    assert read_shop(tmp_path) == shop


def test_seeds_are_frozen() -> None:
    """Figures of different days are figures of the same shops: what was drawn changes only if somebody means it to."""
    assert drawn(1) == drawn(1) == (4, 12, 186.0, 58)
    assert drawn(1) != drawn(2)


def drawn(seed: int) -> tuple[int, int, float, int]:
    """What is drawn for a shop: orders, their weights, square metres, hours of rain."""
    shop = family("S-many-tight-indoor-large").shop(seed)
    weights, area_m2 = sum(o.weight for o in shop.orders), round(sum(s.area_m2 for s in shop.surfaces), 1)
    return len(shop.orders), weights, area_m2, sum(hour.rain_mm > 0 for hour in shop.weather)


@pytest.mark.parametrize("name", SMALL)
def test_every_small_family_has_a_schedule(name: str) -> None:
    """Insertion by due date finds a place for every unit; loose families are not late, tight ones taken together are."""
    values = []
    for seed in (1, 2):
        first = Improver(build_network(family(name).shop(seed)).network, 1).first()
        assert first is not None
        values.append(first.value.lateness)
    assert family(name).tight == (sum(values) > 0)
