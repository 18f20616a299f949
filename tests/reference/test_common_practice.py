"""Facts of the trade as the template shop has them: common practice, no source. The shop folder can change every one of them."""

from datetime import datetime, time, timedelta
from pathlib import Path

import pytest

from scheduler.activities.build import Built, build_network
from scheduler.activities.routing import route_of
from scheduler.activities.soaking import soak_min_in
from scheduler.documents.store.pick_list import pick_list
from scheduler.documents.words.work_words import WorkWords
from scheduler.physics.compressed_air import GUN_BAR
from scheduler.pipeline import Plan, plan
from scheduler.schedule.schedule import Work
from scheduler.search.settings import Settings
from scheduler.shop.methods import Method, Step
from scheduler.shop.new import new_shop
from scheduler.shop.product_sheet import Product, Supply
from scheduler.shop.read import read_shop
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop

BLOCK_SOAK_H = 14.17
"""A full carton as one block of 150 x 200 x 250 mm, 10 to 26.667 °C in 29.444 °C (references, section 3; finite volumes)."""


def _celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """The shop to start from, as a planner gets it."""
    folder: Path = tmp_path_factory.mktemp("common") / "shop"
    new_shop(folder)
    return read_shop(folder)


@pytest.fixture(scope="module")
def made(shop: Shop) -> Plan:
    """Its plan, without a proof."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(shop, Settings(seed=1, moves=10))


def _cartridges(shop: Shop) -> list[Product]:
    return [p for p in shop.products if p.supply is Supply.CARTRIDGE]


def _steps(shop: Shop, unit_id: str) -> list[str]:
    return [s.name for s in route_of(shop, unit_id).steps]


def _method(shop: Shop, step: Step) -> Method:
    return shop.method_of[step]


def test_cartridges_are_sprayed_at_85_f_and_workable_from_80_to_90_f(shop: Shop) -> None:
    """29.4 °C, 26.7 to 32.2 °C; the warmer stands at the target."""
    for product in _cartridges(shop):
        assert product.spray_target_c == pytest.approx(_celsius(85), abs=0.05)
        assert product.spray_min_c == pytest.approx(_celsius(80), abs=0.05)
        assert product.spray_max_c == pytest.approx(_celsius(90), abs=0.05)
    assert [w.set_point_c for w in shop.equipment_of(Kind.WARMER)] == [pytest.approx(_celsius(85), abs=0.05)]


def test_a_warmer_holds_twelve(shop: Shop) -> None:
    """Twelve slots a warmer."""
    assert [w.slots for w in shop.equipment_of(Kind.WARMER)] == [12]


def test_90_psi_at_the_gun(shop: Shop) -> None:
    """6.2 bar, in the physics and in the shop."""
    psi_bar = 0.0689475729
    assert pytest.approx(90 * psi_bar, abs=0.01) == GUN_BAR
    assert [k.gun_bar for k in shop.equipment_of(Kind.COMPRESSOR)] == [GUN_BAR]


def test_a_half_used_cartridge_is_good_for_six_months(shop: Shop) -> None:
    """183 days, half a year."""
    for product in _cartridges(shop):
        assert product.open_life_d == 183 == round(365.25 / 2)


def test_the_first_shot_is_waste_and_the_last_is_never_sprayed_on_the_work(shop: Shop) -> None:
    """Both come off what a cartridge gives, and a recapped one is purged again."""
    for product in _cartridges(shop):
        assert min(product.start_purge_ml, product.end_heel_ml, product.recap_purge_ml) > 0
        assert product.usable_ml == product.pack_ml - product.start_purge_ml - product.end_heel_ml


def test_loaded_in_the_evening_even_a_packed_tray_is_warm_in_the_morning(shop: Shop) -> None:
    """14.17 h of soaking fit between the end of the plain shift and its start the next morning, and a loose cartridge sooner."""
    shifts = [s for s in shop.shifts if not s.overtime and "mon" in s.weekdays]
    ends, starts = max(s.ends for s in shifts), min(s.starts for s in shifts)
    night = datetime.combine(datetime.min + timedelta(days=1), starts) - datetime.combine(datetime.min, ends)
    assert (ends, starts) == (time(15, 30), time(7))
    assert timedelta(hours=BLOCK_SOAK_H) < night
    for product in _cartridges(shop):
        assert soak_min_in(shop, product, 0, shop.site.store_temp_c) / 60 < BLOCK_SOAK_H


def test_what_is_sprayed_first_thing_is_loaded_the_evening_before(shop: Shop) -> None:
    """On the network of the template: cartridges of a step at 07:00 are in the warmer before the people go home."""
    built: Built = build_network(shop)
    coat = next(a for a in built.network.activities if a.name == "coat-1")
    mornings = [s for s in range(1, built.network.slots) if built.network.day[s] != built.network.day[s - 1]]
    assert coat.load is not None
    for slot in mornings:
        assert built.network.day[coat.load[slot]] < built.network.day[slot]


def test_wash_abrade_and_wipe_again_in_this_order(shop: Shop) -> None:
    """Clean with a fast-drying solvent, abrade to a good profile, wipe again; the solvent leaves before the first film."""
    names = _steps(shop, "H1")
    assert names.index("wash") < names.index("abrade") < names.index("wipe") < names.index("prime") < names.index("coat-1")
    assert _method(shop, Step.WASH).dry_min > 0
    assert _method(shop, Step.WIPE).dry_min > 0


def test_bare_steel_is_primed_and_sound_coating_is_not(shop: Shop) -> None:
    """P1 is bare and T1 sound throughout."""
    assert "prime" in _steps(shop, "P1")
    assert "prime" not in _steps(shop, "T1")


def test_flakes_are_taken_off_and_treated_as_bare(shop: Shop) -> None:
    """30 % of 8 m² inside of H1: 2.4 m² are stripped and 2.4 m² primed."""
    area = {s.name: s.area_m2 for s in route_of(shop, "H1").steps}
    assert (area["strip"], area["prime"]) == (pytest.approx(2.4), pytest.approx(2.4))


def test_two_coats_against_rust_and_four_where_things_hit(shop: Shop) -> None:
    """H1 inside and P1's front are hit: coats 3 and 4 cover these alone. T1 is not: two coats."""
    area = {s.name: s.area_m2 for s in route_of(shop, "H1").steps}
    assert [area[f"coat-{n}"] for n in (1, 2, 3, 4)] == [17, 17, 8, 8]
    assert [n for n in _steps(shop, "T1") if n.startswith("coat")] == ["coat-1", "coat-2"]


def test_a_texture_coat_for_grip_where_it_is_wanted(shop: Shop) -> None:
    """T1's lid, and nothing else of T1; H1 has none."""
    texture = next(s for s in route_of(shop, "T1").steps if s.name == "texture")
    assert (texture.area_m2, texture.reason) == (2.5, "grip wanted: lid")
    assert "texture" not in _steps(shop, "H1")


def test_blisters_are_cut_out_wiped_left_to_dry_and_touched_up(shop: Shop) -> None:
    """R1's deck: moisture under a fresh coat has blistered 15 % of it."""
    route = route_of(shop, "R1").steps
    inner = [s.name for s in route if s.stage]
    assert inner == ["move_in-coat", "cut_out", "wipe", "touch_up", "inspect", "move_out-coat"]
    assert "blisters hold moisture" in next(s.reason for s in route if s.name == "cut_out")


def test_nobody_sprays_alone(made: Plan) -> None:
    """A second person stands by on every step with cartridges."""
    sprayed = [w for w in made.schedule.work if w.loads]
    assert sprayed
    assert all(len({p.person_id for p in w.people}) >= 2 for w in sprayed)


def test_every_cartridge_has_its_own_mixer_nut_and_tip(made: Plan) -> None:
    """The pick lists of all days together name as many mixers and tips as cartridges."""
    words = WorkWords(made.shop, made.schedule)
    days = sorted({w.start.date() for w in made.schedule.work})
    picks = [pick for day in days for pick in pick_list(words, day).picks]
    cartridges = sum(w.packs for w in _with_cartridges(made))
    for item in ("Static mixer with nut", "Spray tip"):
        assert sum(pick.amount for pick in picks if pick.item == item) == cartridges > 0


def _with_cartridges(made: Plan) -> list[Work]:
    ids = {p.product_id for p in _cartridges(made.shop)}
    return [w for w in made.schedule.work if w.product_id in ids]
