from pathlib import Path

import pytest

from scheduler.activities.routing import route_of
from scheduler.shop.faults import BadInputError
from scheduler.shop.needs import needs_of, stages_of
from scheduler.shop.new import new_shop
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop
from scheduler.shop.tables import TABLES
from scheduler.shop.unit import Substrate


def test_a_new_shop_is_valid_small_and_shows_every_table(tmp_path: Path) -> None:
    """Three orders, six units of every substrate, two bays, five people, two weeks of weather, and the description."""
    new_shop(tmp_path / "a" / "b")
    shop = read_shop(tmp_path / "a" / "b")
    assert (len(shop.orders), len(shop.units), len(shop.bays), len(shop.crew)) == (3, 6, 2, 5)
    assert {surface.substrate for surface in shop.surfaces} == set(Substrate)
    assert len(shop.weather) == 14 * 24
    names = {path.name for path in (tmp_path / "a" / "b").iterdir()}
    assert names == {t.file for t in TABLES.values()} - {"typical_year.csv"} | {"site.toml", "datapackage.json"}


def test_an_empty_folder_is_filled_and_a_full_one_is_left_alone(tmp_path: Path) -> None:
    """Nothing of the planner's is ever overwritten."""
    new_shop(tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    with pytest.raises(BadInputError, match="there is something in the folder"):
        new_shop(tmp_path)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before
    with pytest.raises(BadInputError, match="this is a file"):
        new_shop(tmp_path / "site.toml")
    with pytest.raises(BadInputError, match="cannot be written"):
        new_shop(tmp_path / "site.toml" / "shop")


def test_needs_and_routes_agree(template: Shop) -> None:
    """The border checks resources against what will be planned: the same steps, minutes and packs, written apart."""
    for unit in template.units:
        planned = [(s.name, round(s.minutes, 6), s.film.packs if s.film else 0) for s in route_of(template, unit.unit_id).steps]
        needed = needs_of(template, unit.unit_id)
        assert [(n.name, round(n.minutes, 6), n.packs) for n in needed] == planned


def test_stages_of_a_unit_that_only_gets_a_repair(template: Shop) -> None:
    """A unit whose surfaces are all blistered is never in a prepare bay."""
    assert stages_of(needs_of(template, "R1")) == ("coat",)
    assert stages_of(needs_of(template, "H1")) == ("prepare", "coat")
