"""Routing: which steps a unit gets and why; trade facts are common practice, no source."""

import pytest

from scheduler.activities.routing import route_of
from scheduler.activities.steps import Route
from scheduler.physics.film import practical_ml
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Surface
from tests.random_shop import random_shop


def _route(**surface: object) -> tuple[Shop, Route]:
    shop = random_shop(1, 1)
    unit = shop.units[0].unit_id
    row = {"unit_id": unit, "surface": "side", "area_m2": 10.0, "substrate": "sound", "system_id": "S1", "profile_um": 75.0}
    shop = shop.model_copy(update={"surfaces": (Surface(**(row | surface)),)})  # type: ignore[arg-type]
    return Shop(**{name: getattr(shop, name) for name in Shop.model_fields}), route_of(
        Shop(**{name: getattr(shop, name) for name in Shop.model_fields}), unit
    )


def _names(route: Route) -> list[str]:
    return [step.name for step in route.steps]


def test_sound_coating_gets_no_primer_and_rust_duty_two_coats() -> None:
    """Common practice, no source: sound existing coating needs no primer, two coats keep rust away."""
    _, route = _route()
    assert [n for n in _names(route) if n.startswith(("prime", "coat"))] == ["coat-1", "coat-2"]
    assert _names(route)[:5] == ["receive", "move_in-prepare", "wash", "abrade", "move_out-prepare"]
    assert _names(route).index("abrade") < _names(route).index("wipe") < _names(route).index("coat-1")


def test_bare_steel_is_primed_first() -> None:
    """Common practice, no source: bare steel gets a bonding primer before the first coat."""
    _, route = _route(substrate="bare")
    names = _names(route)
    assert names.index("prime") < names.index("coat-1")
    assert "bonding primer" in next(s.reason for s in route.steps if s.name == "prime")


def test_things_that_hit_the_surface_ask_for_four_coats() -> None:
    """Common practice, no source: four coats where things hit the surface."""
    _, route = _route(duty="impact")
    assert [n for n in _names(route) if n.startswith("coat")] == ["coat-1", "coat-2", "coat-3", "coat-4"]


def test_flakes_come_off_and_leave_bare_steel() -> None:
    """Common practice, no source: 30 % of 10 m² is stripped and primed, all of it coated."""
    _, route = _route(substrate="failing", failing_pct=30.0)
    area = {s.name: s.area_m2 for s in route.steps}
    assert (area["strip"], area["prime"], area["coat-1"]) == pytest.approx((3.0, 3.0, 10.0))


def test_blisters_are_cut_out_wiped_and_touched_up() -> None:
    """Common practice, no source: the repair is cut out, wipe, let dry, touch up."""
    _, route = _route(substrate="blistered", failing_pct=10.0)
    inner = [n for n in _names(route) if not n.startswith(("move", "receive", "dispatch"))]
    assert inner == ["cut_out", "wipe", "touch_up", "inspect"]


def test_volume_of_a_coat_is_that_of_the_film_formula() -> None:
    """First coat on the abraded profile, the second on a smooth film."""
    shop, route = _route()
    lining = shop.product_by_id["lining"]
    volumes = [s.film.volume_ml for s in route.steps if s.film]
    first = practical_ml(10.0, 400.0, lining.volume_solids_pct, 75.0, lining.loss_pct)
    second = practical_ml(10.0, 400.0, lining.volume_solids_pct, 0.0, lining.loss_pct)
    assert volumes == pytest.approx([first, second])
